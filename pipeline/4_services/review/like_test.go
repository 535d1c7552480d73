package review_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/hand"

	"github.com/stretchr/testify/require"
)

// figured is a piece of one hand in which a measure of three keys stands four times, the third time a semitone
// higher; a finger is given to each place of the figure.
func figured(t *testing.T) (*state.Result, *score.Score, *playing.Playing) {
	t.Helper()
	s, hands, r := &score.Score{}, playing.Hands{}, &state.Result{Summary: state.Summary{Measures: 4}}
	for m := range 4 {
		s.Measures = append(s.Measures, score.Measure{
			Number: string(rune('1' + m)), Start: score.Whole(int64(4 * m)), Length: score.Whole(4),
		})
		for k, midi := range []int{60, 62, 64} {
			if m == 2 {
				midi++
			}
			sure, n := state.Percent(90), len(s.Notes)
			s.Notes = append(s.Notes, score.Note{
				Measure: m, Onset: score.Whole(int64(k)), Duration: score.Whole(1), Midi: midi, TiedFrom: -1, TiedTo: -1,
			})
			hands.Piano, hands.Hand = append(hands.Piano, true), append(hands.Hand, score.Right)
			hands.Player = append(hands.Player, 0)
			r.Notes = append(r.Notes, state.Note{
				N: n, MeasureIndex: m, Onset: score.Whole(int64(k)), Midi: midi, Hand: score.Right,
				Finger: []int{2, 3, 5}[k], Confidence: &sure,
			})
		}
	}
	doubt := state.Percent(30)
	r.Notes[1].Confidence = &doubt
	return r, s, playing.New(s, hands)
}

// What is decided for a figure goes to its like places, less what the hand or the text forbids there.
func TestOneDecisionForAFigure(t *testing.T) {
	r, s, p := figured(t)
	profile, err := hand.Named("ninth")
	require.NoError(t, err)
	bound := make([]decide.Digit, len(s.Notes))
	figures := review.NewFigures(s, p, profile, bound, r, []int{4, 10})
	passage := review.Passages(r, p, nil)[0]
	require.Equal(t, []int{1}, passage.Doubts)

	places := figures.Places(&passage, nil)
	require.Len(t, places, 3)
	require.Equal(t, []int{1, 3, 2}, []int{places[0].Measure, places[1].Measure, places[2].Measure}, "exact ones first")
	require.Equal(t, []int{3, 3, 3}, []int{places[0].Open, places[1].Open, places[2].Open}, "nobody has decided them, whether they print or not")
	for _, n := range places[2].To {
		r.Notes[n].Confidence = nil
	}
	require.Equal(t, 0, figures.Places(&passage, nil)[2].Open, "decided")
	require.Empty(t, places[2].Not, "no thumb and no fifth finger comes on a black key that did not before")

	thumbFirst := func(n int) []int { return [][]int{{1}, {3}, {5}}[n%3] }
	places = figures.Places(&passage, thumbFirst)
	require.Empty(t, places[0].Not)
	require.Contains(t, places[2].Not, "finger 1 would come on a black key")

	carried := figures.Carry(decision.NewFinder(s), &places[0], thumbFirst, "AB", "2026-03-01")
	require.Len(t, carried, 2)
	require.Equal(t, decision.Amend, carried[0].Verb)
	require.Equal(t, []int{1}, carried[0].Notes[0].Fingers)
	require.Equal(t, decision.Take, carried[1].Verb, "what is suggested there anyway")
	require.Len(t, carried[1].Notes, 2)
	require.Equal(t, "as in m. 1", carried[1].Why)
	require.Empty(t, figures.Carry(decision.NewFinder(s), &places[2], thumbFirst, "AB", "2026-03-01"))

	bound[3] = decide.Digit{Verb: decision.Amend, Fingers: []int{4}, By: "CD"}
	s.Notes[9].Indications = []score.Indication{{Fingers: []int{1}}}
	places = figures.Places(&passage, nil)
	require.Contains(t, places[0].Not, "CD decided 4 on")
	require.Contains(t, places[1].Not, "the text has 1 on")
}

// A change of finger on the held key goes to the like places whole; a digit that stands there without it keeps its
// place out.
func TestAChangeOnTheHeldKeyIsCarriedWhole(t *testing.T) {
	r, s, p := figured(t)
	profile, err := hand.Named("ninth")
	require.NoError(t, err)
	bound := make([]decide.Digit, len(s.Notes))
	figures := review.NewFigures(s, p, profile, bound, r, []int{4, 10})
	passage := review.Passages(r, p, nil)[0]
	given := func(n int) []int { return [][]int{{2, 3}, {3}, {5}}[n%3] }
	places := figures.Places(&passage, given)
	carried := figures.Carry(decision.NewFinder(s), &places[0], given, "AB", "2026-03-01")
	require.Len(t, carried, 2)
	require.Equal(t, decision.Amend, carried[0].Verb, "2 is suggested there, 2-3 is not")
	require.Equal(t, []int{2, 3}, carried[0].Notes[0].Fingers)

	toThumb := func(n int) []int { return [][]int{{2, 1}, {3}, {5}}[n%3] }
	require.Contains(t, figures.Places(&passage, toThumb)[2].Not, "finger 1 would come on a black key")

	r.Notes[0].Substitution, r.Notes[9].Substitution = []int{3}, []int{3}
	carried = figures.Carry(decision.NewFinder(s), &places[0], nil, "AB", "2026-03-01")
	require.Equal(t, []int{2, 3}, carried[0].Notes[0].Fingers, "so does one that is suggested")
	carried = figures.Carry(decision.NewFinder(s), &places[1], nil, "AB", "2026-03-01")
	require.Equal(t, decision.Take, carried[0].Verb)
	require.Equal(t, []int{2, 3}, carried[0].Notes[0].Fingers)

	bound[3] = decide.Digit{Verb: decision.Amend, Fingers: []int{2}, By: "CD"}
	s.Notes[9].Indications = []score.Indication{{Fingers: []int{2}}}
	places = figures.Places(&passage, given)
	require.Contains(t, places[0].Not, "CD decided 2 on")
	require.Contains(t, places[1].Not, "the text has 2 on")
}
