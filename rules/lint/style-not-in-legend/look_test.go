package stylenotinlegend

import (
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// The message names what makes a digit look unlike the legend's. What encloses it is text and is not compared.
func TestEveryTraitOfALookHasAWord(t *testing.T) {
	said := map[string]bool{"upright": true}
	for _, look := range score.EachTrait() {
		if look.Enclosure != score.NoEnclosure {
			continue
		}
		require.False(t, said[words(look)], "%+v is %q like another look", look, words(look))
		said[words(look)] = true
	}
	require.Greater(t, len(said), 3)
}
