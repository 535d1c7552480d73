package bind_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/10_bind"
	"fingerproof/rules/fingering"

	"github.com/stretchr/testify/require"
)

// together is four keys struck at once by the left hand, of which the highest came from the right: C4 E4 G4 A4,
// digits decided by take.
func together(fingers ...int) bind.Input {
	s := &score.Score{Measures: []score.Measure{{Number: "1", Length: score.Whole(4)}}}
	h := playing.Hands{}
	plan := &decide.Placed{Digits: make([]decide.Digit, 4), Hands: make([]score.Hand, 4)}
	for i, midi := range []int{60, 64, 67, 69} {
		s.Notes = append(s.Notes, score.Note{Midi: midi, TiedFrom: -1, TiedTo: -1})
		h.Piano, h.Hand, h.Player = append(h.Piano, true), append(h.Hand, score.Left), append(h.Player, 0)
		if fingers[i] > 0 {
			plan.Digits[i] = decide.Digit{Verb: decision.Take, Fingers: []int{fingers[i]}, By: "AB"}
		}
	}
	plan.Hands[3] = score.Left
	plan.Redistributions = []fingering.Redistribution{
		{To: score.Left, Notes: []int{3}, Fingers: []fingering.Finger{fingering.Finger(fingers[3])}},
	}
	return bind.Input{Score: s, Playing: playing.New(s, h), Decided: plan}
}

func digitsOf(in bind.Input) (out []int) {
	for _, d := range bind.Digits(in) {
		out = append(out, d.Finger())
	}
	return out
}

func TestWhatWasTakenForAHandGivesWayToNotesGivenToIt(t *testing.T) {
	require.Equal(t, []int{5, 4, 2, 1}, digitsOf(together(5, 4, 2, 1)), "it can be played")
	require.Equal(t, []int{0, 0, 0, 3}, digitsOf(together(5, 3, 1, 3)),
		"3 on two keys: the grip is fingered anew around the note given")
	require.Equal(t, []int{0, 0, 0, 4}, digitsOf(together(5, 3, 1, 4)), "4 beyond 3")
	require.Equal(t, []int{5, 3, 1, 0}, digitsOf(together(5, 3, 1, 0)),
		"a note given without a digit is fingered around them")
}

func TestWhatAnEditorWroteDoesNotGiveWay(t *testing.T) {
	in := together(5, 3, 1, 1)
	in.Decided.Digits[1].Verb = decision.Amend
	in.Decided.Digits[0].Verb = decision.Amend
	require.Equal(t, []int{5, 3, 1, 1}, digitsOf(in), "the thumb takes two white keys side by side")
	in = together(5, 3, 2, 3)
	in.Decided.Digits[1].Verb = decision.Amend
	require.Equal(t, []int{5, 3, 2, 3}, digitsOf(in),
		"only what was amended clashes: lint names the finger on two keys")
}
