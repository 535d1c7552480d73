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

// A second digit is never bare: bare it would be read as a change of finger on the key.
func TestAlternativesAreNeverBare(t *testing.T) {
	for text, want := range map[string]score.Enclosure{"none": score.Brackets, "brackets": score.Brackets, "parentheses": score.Parentheses} {
		p, err := Read("style", []byte("extends: study\nmarks: {alternative: "+text+"}\n"))
		require.NoError(t, err)
		require.Equal(t, want, p.AlternativeStyle(score.Open).Enclosure, text)
		require.Equal(t, want, p.BesideStyle().Enclosure, text)
	}
}
