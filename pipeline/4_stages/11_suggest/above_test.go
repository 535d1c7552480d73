package suggest

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Two digits over a trill are its fingers in the order of playing: which key has the higher finger says on which it begins. A
// mordent and a turn begin as their signs say.
func TestTheOrderOfTwoDigitsSaysOnWhichNoteATrillBegins(t *testing.T) {
	for _, kind := range []string{"trill", "inverted-mordent"} {
		s, _ := spokenBy(kind)
		above, can := s.fromAbove()
		require.True(t, can, kind)
		for _, c := range []struct {
			row   []int
			left  bool
			above bool
		}{
			{[]int{2, 3}, false, false},
			{[]int{3, 2}, false, true},
			{[]int{3, 2}, true, false},
			{[]int{2, 3}, true, true},
			{[]int{3, 2, 3}, false, true},
			{[]int{2, 3, 2}, false, false},
			{[]int{3, 2, 3, 2}, false, true},
			{[]int{2, 2}, false, false}, // no trill
		} {
			got := s.as(above, c.row, c.left)
			require.Equal(t, c.above, got.above, "%s %v", kind, c.row)
			if c.above {
				for i, steps := range got.steps { // the upper key's finger first
					require.Equal(t, c.row[i%2], int(only(rowDigit(c.row, got, i))), "%s %v stroke %d, %d steps up", kind, c.row, i, steps)
				}
			}
		}
	}
	for _, kind := range []string{"mordent", "turn", "delayed-turn", "schleifer"} {
		s, _ := spokenBy(kind)
		_, can := s.fromAbove()
		require.False(t, can, kind)
	}
}
