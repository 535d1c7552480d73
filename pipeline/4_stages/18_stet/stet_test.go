package stet_test

import (
	"slices"
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

// played gives all pitched notes to the right hand but those named, which another part sings.
func played(s *score.Score, sung ...int) *playing.Playing {
	hands := playing.Hands{}
	for n := range s.Notes {
		hands.Piano = append(hands.Piano, s.Notes[n].Kind == score.Pitched && !slices.Contains(sung, n))
		hands.Hand, hands.Player = append(hands.Hand, score.Right), append(hands.Player, 0)
	}
	return playing.New(s, hands)
}

// letStand gives what is left of findings when stets on notes of one rule are placed, and how many of these are stale.
func letStand(t *testing.T, found []lint.Finding, stets ...[]int) (left []lint.Finding, stale int) {
	t.Helper()
	s := scoretest.Letters(t, scoretest.Scale)
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
		Score: s, Playing: played(s), Policy: policies.Default(), Decided: placed, Findings: found,
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
		Score: s, Playing: played(s), Policy: policies.Default(), Decided: stands,
		Findings: []lint.Finding{{Rule: "rest-doubled", Notes: []int{5}, Measure: 1}},
	})
	require.NoError(t, err)
	require.Empty(t, out.Remaining)
	require.Len(t, out.LetStand, 1)
}

// What is said of measures whose first notes are a singer's is let stand by notes of the piano, one in each measure: of all
// its measures at once.
func TestAFindingOfMeasuresInWhichAVoiceSingsIsLetStandByThePiano(t *testing.T) {
	s := scoretest.Letters(t, scoretest.Scale)
	in := stet.Input{
		Score: s, Playing: played(s, 0, 4), Policy: policies.Default(), Decided: &decide.Placed{},
		Findings: []lint.Finding{
			{Rule: "measure-does-not-add-up", Together: "short"}, {Rule: "measure-does-not-add-up", Measure: 1, Together: "short"},
			{Rule: "slur-without-end", Notes: []int{4}, Measure: 1, Together: "sung"},
		},
	}
	out, err := stet.Findings(in)
	require.NoError(t, err)
	require.Len(t, out.Remaining, 2)
	require.Equal(t, []int{1, 5}, out.Remaining[0].At)
	require.Equal(t, []int{5}, out.Remaining[1].At)
	for _, f := range out.Remaining {
		in.Decided.Stets = append(in.Decided.Stets, decide.FindingStet{Decision: &decision.Decision{Rule: f.Rule}, Notes: f.At})
	}
	out, err = stet.Findings(in)
	require.NoError(t, err)
	require.Empty(t, out.Remaining)
	require.Len(t, out.LetStand, 2, "as many as were told: what was one finding is one that stands")
	require.Equal(t, []int{1}, out.LetStand[0].Finding.Again)
}
