package stet_test

import (
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/18_stet"
	"fingerproof/policies"
	"fingerproof/rules/lint"

	"github.com/stretchr/testify/require"
)

// letStand gives what is left of findings when stets on notes of one rule are placed, and how many of these are stale.
func letStand(t *testing.T, found []lint.Finding, stets ...[]int) (left []lint.Finding, stale int) {
	t.Helper()
	s := scoretest.Letters(t, scoretest.Scale)
	hands := playing.Hands{}
	for range s.Notes {
		hands.Piano, hands.Hand, hands.Player = append(hands.Piano, true), append(hands.Hand, score.Right), append(hands.Player, 0)
	}
	placed := &decide.Placed{}
	for _, notes := range stets {
		placed.Stets = append(placed.Stets, decide.FindingStet{
			Decision: &decision.Decision{
				Verb: decision.Stet, On: decision.Finding, By: "AB", When: "2026-01-01", Why: "meant", Rule: found[0].Rule,
			},
			Notes: notes,
		})
	}
	out, err := stet.Findings(stet.Input{
		Score: s, Playing: playing.New(s, hands), Policy: policies.Default(), Decided: placed, Findings: found,
	})
	require.NoError(t, err)
	for _, f := range out.Remaining {
		if f.Rule == "decision-stale" {
			stale++
		} else {
			left = append(left, f)
		}
	}
	return left, stale
}

// Two findings of a rule in a row share a note: each is let stand by its own entry, and neither entry is stale,
// whichever of them comes first.
func TestStetsOnFindingsInARowAreNotStale(t *testing.T) {
	found := []lint.Finding{
		{Rule: "wide-span", Notes: []int{0, 1}}, {Rule: "wide-span", Notes: []int{1, 2}},
	}
	for _, stets := range [][][]int{{{0}, {1}}, {{1}, {0}}} {
		left, stale := letStand(t, found, stets...)
		require.Empty(t, left)
		require.Zero(t, stale)
	}
	left, stale := letStand(t, found, []int{0})
	require.Len(t, left, 1, "the other is open")
	require.Zero(t, stale)
	left, stale = letStand(t, found, []int{5})
	require.Len(t, left, 2)
	require.Equal(t, 1, stale)
}

// A finding that speaks of a measure as a whole is let stand by a note of it, and by none of another measure.
func TestAFindingOfAMeasureIsLetStandByANoteOfIt(t *testing.T) {
	found := []lint.Finding{{Rule: "measure-does-not-add-up", Measure: 1}}
	left, stale := letStand(t, found, []int{4})
	require.Empty(t, left)
	require.Zero(t, stale)
	left, stale = letStand(t, found, []int{0})
	require.Len(t, left, 1)
	require.Equal(t, []int{4}, left[0].At, "the note by which it can be let stand")
	require.Equal(t, 1, stale)
}

// A finding on a rest is let stand by a note of its measure: a decision names no rest.
func TestAFindingOnARestIsLetStandByANoteOfItsMeasure(t *testing.T) {
	s := scoretest.Letters(t, scoretest.Scale)
	s.Notes[5].Kind = score.Rest
	stands := &decide.Placed{Stets: []decide.FindingStet{{
		Decision: &decision.Decision{Verb: decision.Stet, On: decision.Finding, By: "AB", Why: "meant", Rule: "rest-doubled"},
		Notes:    []int{4},
	}}}
	out, err := stet.Findings(stet.Input{
		Score: s, Playing: &playing.Playing{}, Policy: policies.Default(), Decided: stands,
		Findings: []lint.Finding{{Rule: "rest-doubled", Notes: []int{5}, Measure: 1}},
	})
	require.NoError(t, err)
	require.Empty(t, out.Remaining)
	require.Len(t, out.LetStand, 1)
}
