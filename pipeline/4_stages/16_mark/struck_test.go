package mark

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
)

// A key that the hand which takes a passage struck just before keeps its finger, and has no digit: within a measure, and over
// a barline where it strikes nothing in between (so the preface reads). By another finger, or after something else, it has one.
func TestOfferedDigitsOfAKeyStruckAgain(t *testing.T) {
	type note struct{ measure, at, key, finger int } // no finger: the other hand's own
	again := func(notes ...note) []bool {
		s := &score.Score{Parts: []score.Part{{Staves: 2}}}
		for m := range 40 {
			s.Measures = append(s.Measures, score.Measure{Index: m, Start: score.Whole(int64(4 * m))})
		}
		var hands playing.Hands
		r := passage{to: score.Left}
		for i, n := range notes {
			s.Notes = append(s.Notes, score.Note{
				Measure: n.measure, Onset: score.Whole(int64(n.at)), Duration: score.Whole(1), Midi: n.key,
				Voice: "1", TiedFrom: -1, TiedTo: -1,
			})
			hand := score.Left
			if n.finger > 0 {
				hand = score.Right
				r.notes, r.fingers = append(r.notes, i), append(r.fingers, fingering.Finger(n.finger))
			}
			hands.Piano, hands.Hand, hands.Player = append(hands.Piano, true), append(hands.Hand, hand), append(hands.Player, 0)
		}
		return keepsFinger(Fingered{Score: s, Playing: playing.New(s, hands)}, &r)
	}
	// Voice by voice: C C C D C, and E E E above the first three.
	require.Equal(t, []bool{false, true, true, false, false, false, true, false}, again(
		note{0, 0, 60, 3}, note{0, 1, 60, 3}, note{0, 2, 60, 3}, note{0, 3, 62, 2}, note{1, 0, 60, 3},
		note{0, 0, 64, 1}, note{0, 1, 64, 1}, note{0, 2, 64, 2}))

	last, next := note{0, 3, 60, 3}, note{1, 0, 60, 3}
	require.Equal(t, []bool{false, true}, again(last, next), "over a barline")
	require.Equal(t, []bool{false, true}, again(last, next, note{1, 0, 48, 0}, note{0, 3, 48, 0}), "with notes of its own at both")
	next.at = 1
	require.Equal(t, []bool{false, false}, again(last, next, note{1, 0, 48, 0}), "with a note of its own between")
	require.Equal(t, []bool{false, true}, again(last, next), "a rest of a quarter")
	require.Equal(t, []bool{false, false}, again(last, note{2, 1, 60, 3}), "a rest of five quarters")
	require.Equal(t, []bool{false, false}, again(last, note{39, 3, 60, 3}), "many measures later")

	first, third := note{0, 0, 60, 3}, note{0, 2, 60, 3}
	require.Equal(t, []bool{false, true}, again(first, third, note{0, 1, 48, 0}), "within a measure, whatever lies between")
	require.Equal(t, []bool{false, false}, again(first, third, note{0, 1, 60, 0}), "but not the key itself")
}
