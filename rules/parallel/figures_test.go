package parallel_test

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

// What counts as a figure is ours, in the terms that Figures states: editors print a refrain one way (common practice).
func TestFiguresThatComeAgainNearby(t *testing.T) {
	const refrain = "G4/16 A4 G4 F#4 G4 "
	for _, c := range []struct{ name, right, want string }{
		{"a refrain between other keys", refrain + "C5/4 " + refrain + "E4/4", "figure 0-4>6-10"},
		{
			"each later time follows the first", refrain + "C5/4 " + refrain + "E4/4 " + refrain + "D4/4",
			"figure 0-4>6-10, figure 0-4>12-16",
		},
		{"three strokes are none", "G4/16 A4 G4 C5/4 G4/16 A4 G4 E4/4", ""},
		{"other lengths", refrain + "C5/4 G4/8 A4 G4 F#4 G4", ""},
		{"too far", refrain + "C5/1 D5/1 " + refrain + "E4/4", ""},
		{"a run is none", "C4/16 D4 E4 F4 C5/4 C4/16 D4 E4 F4 A4/4", ""},
		{"the same shape on keys of the same colours", "E4/16 F4 E4 D4 C5/4 B4/16 C5 B4 A4 E4/4", "figure 0-3>5-8"},
		{"a black key makes it another shape of keys", "E4/16 F4 E4 D4 C5/4 F#4/16 G4 F#4 E4 D4/4", ""},
		{
			"the figure may go on: the last stroke belongs to it", "C3/16 G3 E3 G3 C3 G3 E3 G3 C3 G3 E3 G3",
			"figure 0-3>4-7, figure 0-3>8-11",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := newMusic(8)
			m.line(t, score.Right, c.right)
			require.Equal(t, c.want, summary(parallel.Figures(m.score, playing.New(m.score, m.hands))))
		})
	}
}
