package summary_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/summary"
)

// The same said of several pieces is one line with its count; what is new since the earlier report comes first.
func TestTheSameOfSeveralPiecesIsOneLine(t *testing.T) {
	sign := func(mark, measure, again string) state.Finding {
		return state.Finding{
			Rule: "sign-in-other-language", Severity: "note", Message: `the hand sign "l.h." is not ours` + again,
			Measure: measure, Fingerprint: mark, Address: mark, Fix: "set ours",
		}
	}
	span := state.Finding{Rule: "wide-span", Severity: "warning", Message: "C4 and D5", Measure: "7", Fingerprint: "s", Address: "s"}
	pieces := []state.Outcome{
		{Piece: "a", Findings: []state.Finding{sign("1", "3", "; the same again in m. 9"), span}},
		{Piece: "b", Findings: []state.Finding{sign("2", "4", "")}},
		{Piece: "c", Findings: []state.Finding{sign("3", "5", ""), sign("4", "6", "")}},
	}
	known := state.NewBaseline(state.KnownOf(&pieces[0]))
	pieces[0].Since = known.Since(&pieces[0])
	for i := range pieces[1:] {
		pieces[i+1].Since = known.Since(&pieces[i+1])
	}
	var out strings.Builder
	require.NoError(t, summary.Write(&out, summary.Report{Outcomes: pieces}))
	_, list, found := strings.Cut(out.String(), "### Findings, new ones first\n\n")
	require.True(t, found, out.String())
	lines := strings.Split(strings.TrimSpace(list), "\n")
	require.Len(t, lines, 3)
	require.Equal(t, `- **new note** 3 times in b and c: the hand sign "l.h." is not ours; set ours (sign-in-other-language)`, lines[0])
	require.Contains(t, lines[1], "- **warning** a, m. 7: C4 and D5")
	require.Contains(t, lines[2], "- **note** a, m. 3: ")
}
