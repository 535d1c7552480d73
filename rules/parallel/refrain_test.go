package parallel_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/rules/fingering"
	"fingerproof/rules/fingering/written"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

// What counts as a time of a figure is ours, in the terms that Refrains states: an editor chooses one fingering for a
// refrain, and an exercise that climbs puts the same keys under other fingers on purpose (common practice).
func TestRefrains(t *testing.T) {
	const refrain = "g4 a4 g4 f#4"
	for _, c := range []struct{ name, keys, want string }{
		{"twice on the same keys", refrain + " c5 " + refrain + " e5", "0 5"},
		{"three times, the last two farther than a hand", refrain + " c5 " + refrain + " e5 " + refrain, "0 5 10; like 5 10"},
		{"on keys of the same shape and colours, farther than a hand", "e4 f4 e4 d4 c6 b5 c6 b5 a5 e5", "like 0 5"},
		{"under the hand in one place", "d4 e4 d4 c4 e4 g4 a4 g4 f4 e4", ""},
		{"a run is none", "c5 d5 e5 f5 a5 c5 d5 e5 f5 b4", ""},
		{"one key is none", "c5 c5 c5 c5 d5 c5 c5 c5 c5", ""},
		{"never twice", refrain, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			line := fingering.NewLine(fingering.Right, written.Notes(c.keys, 0), hand.NinthHand.Fits)
			require.Equal(t, c.want, timesOf(line, parallel.Refrains(line)))
		})
	}
}

func timesOf(line *fingering.Line, refrains []parallel.Refrain) string {
	var all []string
	for _, r := range refrains {
		var times []string
		if r.Like {
			times = append(times, "like")
		}
		for _, x := range r.Times {
			times = append(times, fmt.Sprint(line.Strikes[x[0]].Event))
		}
		all = append(all, strings.Join(times, " "))
	}
	return strings.Join(all, "; ")
}

// The pattern c e d f climbs by a step each time: e d f d, say, never lies where it did. In the second row the first of
// the pattern's own figures comes back within each time of it, which is no part of a sequence.
func TestPartsOfASequence(t *testing.T) {
	line := fingering.NewLine(fingering.Right, written.Notes(
		"c4 e4 f4 g4 a4 g4 f4 e4 d4 f4 g4 a4 b4 a4 g4 f4 e4 g4 a4 b4 c5 b4 a4 g4 f4 a4 b4 c5 d5 c5 b4 a4", 0), hand.NinthHand.Fits)
	require.True(t, parallel.InSequence(line, 3, 10, 4), "g a g f is the fourth stroke of one time, the third of the next")
	require.False(t, parallel.InSequence(line, 2, 10, 4), "the same place of the pattern")
	free := fingering.NewLine(fingering.Right, written.Notes("g4 a4 g4 f#4 c5 g4 a4 g4 f#4 e5 b4 d5", 0), hand.NinthHand.Fits)
	require.False(t, parallel.InSequence(free, 0, 5, 4), "nothing climbs")
}
