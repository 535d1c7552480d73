package habits

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Three digits more of 1,176, none worse, come of chance once in eight trials, and eight strengths are tried; ten more and none
// worse once in a thousand.
func TestAFewDigitsMoreAreChance(t *testing.T) {
	for _, c := range []struct {
		gained, lost int
		beyond       bool
	}{{3, 0, false}, {6, 0, false}, {7, 0, true}, {10, 0, true}, {40, 25, false}, {60, 30, true}, {0, 0, false}, {2, 40, false}} {
		require.Equal(t, c.beyond, beyondChance(c.gained, c.lost), "%d gained, %d lost", c.gained, c.lost)
	}
}
