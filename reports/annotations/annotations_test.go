package annotations_test

import (
	"strings"
	"testing"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/annotations"

	"github.com/stretchr/testify/require"
)

// What the syntax of workflow commands keeps for itself is escaped: % and line breaks everywhere, : and , in
// properties.
func TestCommandsAreEscaped(t *testing.T) {
	var out strings.Builder
	require.NoError(t, annotations.Write(&out, []state.Outcome{
		{
			Piece: "a", File: "a,b:c.musicxml",
			Findings: []state.Finding{{Rule: "r", Severity: "note", Message: "50% of, it: all", Measure: "1", Line: 3}},
		},
		{
			Piece: "p", File: "p.mxl",
			Findings: []state.Finding{{Rule: "r", Severity: "warning", Message: "x", Measure: "1"}},
			Stets:    make([]state.Stet, 2),
		},
		{Piece: "q", File: "q.musicxml", Problem: "broken\n::error::here"},
	}))
	require.Equal(t, `::notice file=a%2Cb%3Ac.musicxml,line=3,title=r::m. 1: 50%25 of, it: all
::warning file=p.mxl,title=r::m. 1: x
::notice file=p.mxl,title=stet::p: let stand: 2
::error file=q.musicxml,title=could not be worked on::broken ::error::here
`, out.String())
}
