package check_test

import (
	"bytes"
	"regexp"
	"strconv"
	"testing"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/6_checks/check"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// A finding that an editor has let stand since the piece was passed stands: it is not told as gone, and the decision is
// the cause.
func TestAFindingThatIsLetStandIsNotGone(t *testing.T) {
	in := demo(t, "op9-3-romance")
	before := work(t, in)
	var stet decision.Decision
	said := ""
	for i := range before.Result.Findings {
		if f := &before.Result.Findings[i]; len(f.Anchors()) > 0 && f.Rule != "decision-query" {
			stet = decision.Decision{
				Verb: decision.Stet, On: decision.Finding, Rule: f.Rule, By: "AB", When: today, Why: "meant so",
				Notes: []decision.NoteRef{decision.NewFinder(before.Score).Ref(f.Anchors()[0], nil)},
			}
			said = "finding let stand by AB (meant so): " + f.Severity + ": " + f.Sentence() + " [" + f.Rule + "]"
			break
		}
	}
	require.NotEmpty(t, said, "the piece has a finding")
	in.decisions = []decision.Decision{stet}
	now := work(t, in)
	require.NotEmpty(t, now.Result.Stets)
	was := stateOf(before)
	p := check.Compare(now, was, in.data)
	require.Len(t, p.Changes, len(now.Result.Stets))
	require.Equal(t, check.FindingLetStand, p.Changes[0].Kind)
	require.Equal(t, said, p.Changes[0].Sentence())
	require.Equal(t, []string{"decisions"}, causes(p))
	var out bytes.Buffer
	require.NoError(t, check.WriteText(&out, []check.Piece{p}))
	require.NotContains(t, out.String(), "finding gone")

	// The same where other digits give the finding another fingerprint and other words; at another place it is gone.
	for i := range was.Findings {
		if was.Findings[i] == p.Changes[0].Old {
			was.Findings[i] = "0123456789abcdef" + p.Changes[0].Old[len("0123456789abcdef"):] + " then"
		}
	}
	p = check.Compare(now, was, in.data)
	require.Equal(t, check.FindingLetStand, p.Changes[0].Kind)
	for i := range was.Findings {
		was.Findings[i] = regexp.MustCompile(`: m\. \d+`).ReplaceAllString(was.Findings[i], ": m. 99")
	}
	p = check.Compare(now, was, in.data)
	require.Equal(t, check.FindingGone, p.Changes[0].Kind)
}

// Findings that come and those that go follow the score, each for themselves.
func TestFindingsFollowTheScore(t *testing.T) {
	in := demo(t, "op9-3-romance")
	with, without := in.policy, style(t, "lint: {wrong-side: off}\n")
	for _, other := range []struct {
		old, new *policies.Policy
		kind     check.Kind
	}{{without, with, check.FindingNew}, {with, without, check.FindingGone}} {
		in.policy = other.old
		was := stateOf(work(t, in))
		in.policy = other.new
		p := check.Compare(work(t, in), was, in.data)
		last, counted := 0, 0
		for i := range p.Changes {
			if p.Changes[i].Kind != other.kind {
				continue
			}
			m := regexp.MustCompile(`: m\. (\d+)`).FindStringSubmatch(p.Changes[i].Sentence())
			require.NotNil(t, m, p.Changes[i].Sentence())
			n, err := strconv.Atoi(m[1])
			require.NoError(t, err)
			require.GreaterOrEqual(t, n, last, p.Changes[i].Sentence())
			last = n
			counted++
		}
		require.Greater(t, counted, 2)
	}
}

// How many digits are in print before and after is counted, whatever else changes.
func TestDigitsInPrintAreCounted(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	in.policy = style(t, "digits: every-note\n")
	before := work(t, in)
	was := stateOf(before)
	in.policy = style(t, "digits: sparse\n")
	after := work(t, in)
	p := check.Compare(after, was, in.data)
	require.Equal(t, check.Digits{Before: before.Result.Summary.Printed, After: after.Result.Summary.Printed}, p.Printed)
	require.Greater(t, p.Printed.Before, p.Printed.After)
	gone := 0
	for i := range p.Changes {
		if c := &p.Changes[i]; c.Kind == check.Printed {
			gone += map[string]int{"yes": -1, "no": 1}[c.New]
		}
	}
	require.Equal(t, p.Printed.Before-p.Printed.After, gone)
}
