package keying

import (
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// A key that two voices strike together counts once: it has one finger.
func TestKeysOfAStroke(t *testing.T) {
	k := &Keying{Score: &score.Score{Notes: []score.Note{{Midi: 43}, {Midi: 43}, {Midi: 55}, {Midi: 59}}}}
	require.Equal(t, []int{0, 0, 1, 2}, k.keysOf([]int{0, 1, 2, 3}))
	require.Equal(t, []int{0, 1}, k.keysOf([]int{2, 3}))
	require.Equal(t, []int{0}, k.keysOf([]int{1}))
}
