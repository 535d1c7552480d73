package mark

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// A key that is struck again by the finger it had has no digit again where notes are offered to the other hand; by another
// finger, or after something else, it has. The notes come voice by voice.
func TestOfferedDigitsOfAKeyStruckAgain(t *testing.T) {
	s := &score.Score{}
	for _, n := range []struct{ at, key int }{{0, 60}, {1, 60}, {2, 60}, {3, 62}, {4, 60}, {0, 64}, {1, 64}, {2, 64}} {
		s.Notes = append(s.Notes, score.Note{Onset: score.Whole(int64(n.at)), Midi: n.key})
	}
	again := struckAgain(s, []int{0, 1, 2, 3, 4, 5, 6, 7}, []fingering.Finger{3, 3, 3, 2, 3, 1, 1, 2})
	require.Equal(t, []bool{false, true, true, false, false, false, true, false}, again)
}
