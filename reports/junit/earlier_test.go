package junit_test

import (
	"strings"
	"testing"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/junit"
	"fingerproof/rules/lint"

	"github.com/stretchr/testify/require"
)

// Of a piece that this run did not look at no case passes, and none fails as if it were found now.
func TestWhatAnEarlierRunLeftDoesNotPass(t *testing.T) {
	write := func(earlier bool) string {
		f := state.Finding{Rule: "one-rule", Severity: "error", Message: "a", Measure: "1"}
		var out strings.Builder
		require.NoError(t, junit.Write(&out, junit.Report{
			Rules: []*lint.Rule{{Name: "one-rule", Title: "one"}, {Name: "two-rule", Title: "two"}},
			Outcomes: []state.Outcome{
				{Piece: "a", File: "a.musicxml", Earlier: earlier, Findings: []state.Finding{f}},
				{Piece: "b", File: "b.musicxml", Earlier: earlier, Problem: "gone"},
			},
			Fails: func(*state.Outcome, *state.Finding) bool { return true },
		}))
		return out.String()
	}
	now, left := write(false), write(true)
	require.Contains(t, now, `tests="3" failures="1" errors="1" skipped="0"`)
	require.Contains(t, now, `<testcase name="two-rule" classname="a" file="a.musicxml"></testcase>`)
	require.NotContains(t, now, "earlier run")
	require.Contains(t, left, `tests="3" failures="1" errors="1" skipped="1"`)
	require.Contains(t, left, `<failure message="as an earlier run left it, not looked at by this one: one"`)
	require.Contains(t, left, `<skipped message="as an earlier run left it, not looked at by this one">`)
	require.Contains(t, left, `<error message="as an earlier run left it, not looked at by this one: gone"`)
}
