package reasons

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
)

// A way is said to break with the place that has another finger, not with one that has its own (seen: "with 3 breaks with the
// same passage in m. 3", where 3 stood); where that one's digit is of the text, it is named.
func TestAWayBreaksWithWhatHasAnotherFinger(t *testing.T) {
	in := &Question{Score: &score.Score{}, Given: []Given{InText, Free, Free, InText}, Measure: 1}
	for i, finger := range []fingering.Finger{3, 2, 2, 2} { // the note in question is that of m. 2
		in.Score.Measures = append(in.Score.Measures, score.Measure{Number: string(rune('1' + i))})
		in.Score.Notes = append(in.Score.Notes, score.Note{Measure: i, Midi: 57})
		in.Notes = append(in.Notes, engine.Fingered{Finger: finger})
	}
	returns := func(pairs ...[2]int) (out []parallel.Return) {
		for _, p := range pairs {
			out = append(out, parallel.Return{Kind: parallel.Exact, First: []int{p[0]}, Later: []int{p[1]}})
		}
		return out
	}
	with := look{in: in, notes: []int{1}, by: map[int]int{1: 3}, touched: map[int]bool{1: true}}
	in.Returns = returns([2]int{0, 1}, [2]int{1, 2})
	require.Equal(t, "breaks with the same passage in m. 3", with.breaks(1))
	in.Returns = returns([2]int{0, 1}, [2]int{1, 2}, [2]int{1, 3})
	require.Contains(t, with.breaks(1), "in m. 4, where 2 on ")
	in.Returns = returns([2]int{0, 1})
	require.NotContains(t, with.breaks(1), "m. 1", "it has the same finger")
	// What the two ways have alike speaks for neither.
	visited := 0
	same := look{in: in, notes: []int{0, 1, 2}, by: map[int]int{}, touched: map[int]bool{}}
	same.pairs(func(int, int, bool) { visited++ })
	require.Zero(t, visited)
}
