package stet_test

import (
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/18_stet"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// A finding on a digit of the text that was let stand keeps its reason when it is not found any more since the digits around it were
// taken: the digit stands. It is gone where the digit was changed, its chord is rolled, its hand amended beside it, or where the
// rule speaks of the text.
func TestAStetKeepsItsReasonWhileItsDigitStands(t *testing.T) {
	const file = "decisions/p.AB.yaml"
	made := func(verb decision.Verb, on decision.Subject, when string, line int) *decision.Decision {
		return &decision.Decision{Verb: verb, On: on, By: "AB", When: when, Why: "the source", File: file, Line: line}
	}
	for _, c := range []struct {
		name   string
		rule   string
		change func(s *score.Score, p *decide.Placed)
		kept   bool
	}{
		{"around it all was taken", "unlikely-finger", func(_ *score.Score, p *decide.Placed) {
			p.Deciding[0], p.Deciding[2] = made(decision.Take, decision.Notes, "2026-01-05", 20), made(decision.Take, decision.Notes, "2026-01-05", 20)
		}, true},
		{"it was taken itself as suggested", "unlikely-finger", func(s *score.Score, p *decide.Placed) {
			s.Notes[1].Indications, p.Deciding[1] = nil, made(decision.Take, decision.Notes, "2026-01-05", 20)
		}, true},
		{"it was amended before", "unlikely-finger", func(_ *score.Score, p *decide.Placed) {
			p.Deciding[1] = made(decision.Amend, decision.Notes, "2026-01-05", 5)
		}, true},
		{"it was amended behind it", "unlikely-finger", func(_ *score.Score, p *decide.Placed) {
			p.Deciding[1] = made(decision.Amend, decision.Notes, "2026-01-05", 20)
		}, false},
		{"its neighbour was amended behind it", "unlikely-finger", func(_ *score.Score, p *decide.Placed) {
			p.Deciding[2] = made(decision.Amend, decision.Notes, "2026-01-06", 20)
		}, false},
		{"another measure was amended", "unlikely-finger", func(_ *score.Score, p *decide.Placed) {
			p.Deciding[6] = made(decision.Amend, decision.Notes, "2026-01-06", 20)
		}, true},
		{"no digit stands there", "unlikely-finger", func(s *score.Score, _ *decide.Placed) { s.Notes[1].Indications = nil }, false},
		{"it is rolled", "unlikely-finger", func(_ *score.Score, p *decide.Placed) { p.Rolling[1] = score.RolledUp }, false},
		{"the rule speaks of the text", "measure-does-not-add-up", func(*score.Score, *decide.Placed) {}, false},
	} {
		s := scoretest.Letters(t, scoretest.Scale)
		s.Notes[1].Indications = []score.Indication{{Fingers: []int{4}}}
		placed := &decide.Placed{
			Deciding: make([]*decision.Decision, len(s.Notes)), Rolling: make([]score.Rolling, len(s.Notes)),
		}
		d := made(decision.Stet, decision.Finding, "2026-01-05", 10)
		d.Rule = c.rule
		placed.Stets = []decide.FindingStet{{Decision: d, Notes: []int{1}}}
		c.change(s, placed)
		out, err := stet.Findings(stet.Input{Score: s, Playing: played(s), Policy: policies.Default(), Decided: placed})
		require.NoError(t, err)
		if c.kept {
			require.Len(t, out.LetStand, 1, c.name)
			require.Equal(t, "the source", out.LetStand[0].By.Why)
			gone := "not found as digits, hand and policy stand now"
			if own := placed.Deciding[1]; own != nil {
				gone = "not found with the digits that were decided there that day"
			}
			require.Contains(t, out.LetStand[0].Finding.Message, gone, c.name)
			require.Empty(t, out.Remaining, c.name)
		} else {
			require.Empty(t, out.LetStand, c.name)
			require.Len(t, out.Remaining, 1, c.name)
			gone := "AB let " + c.rule + " stand; it is not found any more"
			if own := placed.Deciding[1]; own != nil {
				gone += " with the digits that were decided there that day"
			}
			require.Equal(t, gone, out.Remaining[0].Message, c.name)
		}
	}
}
