package hands

import (
	"math/rand/v2"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"

	"github.com/stretchr/testify/require"
)

func at(sixteenth, length int64, keys ...int) (out []Keystroke) {
	for _, k := range keys {
		out = append(out, Keystroke{
			Key: k, Onset: fingering.Moment{Num: sixteenth, Den: 4},
			End: fingering.Moment{Num: sixteenth + length, Den: 4},
		})
	}
	return out
}

// A tune over broken chords that rises beyond middle C and falls below it, of our own invention.
func tune() (notes []Keystroke, want []score.Hand) {
	melody := []int{72, 74, 76, 72, 69, 67, 69, 71}
	bass := [][]int{
		{48, 55, 52, 55}, {50, 57, 53, 57}, {52, 60, 55, 60}, {48, 55, 52, 55}, {45, 52, 48, 52}, {43, 50, 47, 50},
		{45, 52, 48, 52}, {43, 50, 47, 50},
	}
	for m := range melody {
		notes = append(notes, at(int64(4*m), 4, melody[m])...)
		want = append(want, score.Right)
		for k, b := range bass[m] {
			notes = append(notes, at(int64(4*m+k), 1, b)...)
			want = append(want, score.Left)
		}
	}
	return notes, want
}

func TestATuneOverBrokenChords(t *testing.T) {
	notes, want := tune()
	require.Equal(t, want, Infer(notes))
	require.NotEqual(t, want, AtMiddleC(notes)) // the C4 of the accompaniment
}

func TestTheOrderOfTheNotesDoesNotMatter(t *testing.T) {
	notes, want := tune()
	order := rand.New(rand.NewPCG(1, 2)).Perm(len(notes))
	var mixed []Keystroke
	var expected []score.Hand
	for _, k := range order {
		mixed, expected = append(mixed, notes[k]), append(expected, want[k])
	}
	require.Equal(t, expected, Infer(mixed))
}

func TestAHandThatIsKnownStands(t *testing.T) {
	notes, _ := tune()
	notes[1].Hand, notes[0].Hand = score.Right, score.Left
	got := Infer(notes)
	require.Equal(t, score.Right, got[1])
	require.Equal(t, score.Left, got[0])
	require.Empty(t, Infer(nil))
}

func TestFittingLearnsFromItsExamples(t *testing.T) {
	notes, want := tune()
	for i := range notes {
		notes[i].Hand = want[i]
	}
	tell := Fit([]Example{notes}, 8)
	for i := range notes {
		notes[i].Hand = score.NoHand
	}
	require.Equal(t, want, tell.Infer(notes))
}
