package hands_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Two voices on one staff are a hand's each where the other staff, used elsewhere, has nothing there, not even a rest.
func TestOfTwoVoicesOnOneStaffEachHandHasOne(t *testing.T) {
	n := positionNote
	next := `</measure><measure number="2">` + n("C5", 4, 1, 1, "") + back + n("C3", 4, 5, 2, "") // the lower staff is used
	upper := n("E5", 2, 1, 1, "") + n("D5", 2, 1, 1, "") + back + n("G4", 4, 2, 1, "")
	require.Equal(t, "RRLRL", handsIn(t, upper+next))
	require.Equal(t, "RRRRL", handsIn(t, upper+back+n("r", 4, 5, 2, "")+next), "a written rest keeps the left hand silent")
	require.Equal(t, "RRR", handsIn(t, upper), "a staff without any note leaves nothing out")
	require.Equal(t, "RRRLRL", handsIn(t, upper+back+n("C3", 4, 5, 2, "")+next), "the left hand plays")
	crossing := n("E5", 2, 1, 1, "") + n("E4", 2, 1, 1, "") + back + n("G4", 4, 2, 1, "")
	require.Equal(t, "RRRRL", handsIn(t, crossing+next), "the voices cross")
	octaves := n("E5", 2, 1, 1, "") + n("D5", 2, 1, 1, "") + back + n("E4", 2, 2, 1, "") + n("D4", 2, 2, 1, "")
	require.Equal(t, "RRRRRL", handsIn(t, octaves+next), "octaves in one rhythm")
	lower := n("C3", 4, 5, 2, "") + back + n("A3", 2, 6, 2, "") + n("B3", 2, 6, 2, "")
	require.Equal(t, "LRRRL", handsIn(t, lower+next), "the upper voice of the lower staff")
}
