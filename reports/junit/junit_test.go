package junit_test

import (
	"encoding/xml"
	"strings"
	"testing"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/reports/junit"
	"fingerproof/rules/lint"

	"github.com/stretchr/testify/require"
)

func TestSuitesFailAndSkipAsFindingsDo(t *testing.T) {
	f := func(rule, severity string) state.Finding {
		return state.Finding{Rule: rule, Severity: severity, Message: "a < b", Measure: "1"}
	}
	var out strings.Builder
	require.NoError(t, junit.Write(&out, junit.Report{
		Rules: []*lint.Rule{
			{Name: "one-rule", Title: "one"}, {Name: "two-rule", Title: "two"}, {Name: "three-rule", Title: "three"},
		},
		Outcomes: []state.Outcome{
			{
				Piece: "a", File: "a.musicxml",
				Findings: []state.Finding{f("one-rule", "error"), f("two-rule", "note")},
				Stets:    []state.Stet{{Finding: f("three-rule", "error"), By: "AB", When: "2026-01-02", Why: "so"}},
			},
			{Piece: "b", File: "b.musicxml", Problem: "gone"},
		},
		Fails: func(_ *state.Outcome, f *state.Finding) bool { return f.Severity == "error" },
	}))
	require.Equal(t, xml.Header+`<testsuites name="fingerproof" tests="4" failures="1" errors="1" skipped="1">
  <testsuite name="a" tests="3" failures="1" errors="0" skipped="1">
    <testcase name="one-rule" classname="a" file="a.musicxml">
      <failure message="one" type="error">&#xA;error: m. 1: a &lt; b&#xA;</failure>
    </testcase>
    <testcase name="two-rule" classname="a" file="a.musicxml">
      <system-out>&#xA;note: m. 1: a &lt; b&#xA;</system-out>
    </testcase>
    <testcase name="three-rule" classname="a" file="a.musicxml">
      <skipped message="let stand">&#xA;let stand: m. 1: a &lt; b; so (AB, 2026-01-02)&#xA;</skipped>
    </testcase>
  </testsuite>
  <testsuite name="b" tests="1" failures="0" errors="1" skipped="0">
    <testcase name="read" classname="b" file="b.musicxml">
      <error message="gone" type="error">gone</error>
    </testcase>
  </testsuite>
</testsuites>
`, out.String())
}

// Nobody looked whether a rule that is off speaks: its case does not pass.
func TestRulesThatAreOffAreSkipped(t *testing.T) {
	var out strings.Builder
	require.NoError(t, junit.Write(&out, junit.Report{
		Rules:    []*lint.Rule{{Name: "one-rule", Title: "one"}, {Name: "two-rule", Title: "two"}},
		Outcomes: []state.Outcome{{Piece: "a", File: "a.musicxml"}},
		Fails:    func(*state.Outcome, *state.Finding) bool { return true },
		Off:      func(_ *state.Outcome, rule string) bool { return rule == "two-rule" },
	}))
	require.Contains(t, out.String(), `<testsuite name="a" tests="2" failures="0" errors="0" skipped="1">`)
	require.Contains(t, out.String(), `<testcase name="two-rule" classname="a" file="a.musicxml">
      <skipped message="switched off by the policy of the piece: not looked at"></skipped>`)
}

// What was let stand is counted apart also where the same rule has findings that stand.
func TestStetsAreCountedBesideFindingsOfTheirRule(t *testing.T) {
	f := func(severity string) state.Finding {
		return state.Finding{Rule: "one-rule", Severity: severity, Message: "a", Measure: "1"}
	}
	for _, severity := range []string{"error", "note"} {
		var out strings.Builder
		require.NoError(t, junit.Write(&out, junit.Report{
			Rules: []*lint.Rule{{Name: "one-rule", Title: "one"}},
			Outcomes: []state.Outcome{
				{
					Piece: "a", File: "a.musicxml", Findings: []state.Finding{f(severity)},
					Stets: []state.Stet{{Finding: f("error"), By: "AB", When: "2026-01-02", Why: "so"}},
				},
			},
			Fails: func(_ *state.Outcome, f *state.Finding) bool { return f.Severity == "error" },
		}))
		require.Contains(t, out.String(), `<testsuite name="a" tests="2"`)
		require.Contains(t, out.String(), `skipped="1"`)
		require.Contains(t, out.String(), `<testcase name="one-rule, let stand" classname="a" file="a.musicxml">`)
		require.Equal(t, 1, strings.Count(out.String(), "let stand: m. 1"))
	}
}
