package policies

import (
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// Two digits that look different are told apart in words.
func TestEveryTraitOfALookHasAWord(t *testing.T) {
	said := map[string]bool{"upright": true}
	for _, look := range score.EachTrait() {
		words := InWords(look)
		require.False(t, said[words], "%+v is %q like another look", look, words)
		said[words] = true
	}
	require.Greater(t, len(said), 4)
}
