package score_test

import (
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// A digit fits a look where every trait that the look sets is the digit's;
// what stands around it is text.
func TestADigitFitsALook(t *testing.T) {
	plain := score.Style{}
	require.Greater(t, len(score.EachTrait()), 3)
	for _, one := range score.EachTrait() {
		require.True(t, one.Fits(one), "%+v", one)
		require.Equal(t, one.Enclosure != score.NoEnclosure, plain.Fits(one), "%+v", one)
		open := one.Size != "" || one.Colour != "" || one.Enclosure != score.NoEnclosure
		require.Equal(t, open, one.Fits(plain), "%+v", one)
	}
}
