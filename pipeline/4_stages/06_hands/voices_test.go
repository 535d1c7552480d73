package hands_test

import (
	"strings"
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
	// Two voices stand on the lower staff, the second one for half of the measure only: it is not empty behind it (seen in a lesson:
	// G4 was given to a left hand that holds A2 and E3 there).
	two := n("r", 2, 1, 1, "") + n("C5", 1, 1, 1, "") + n("D5", 1, 1, 1, "") + back + n("r", 2, 2, 1, "") + n("G4", 2, 2, 1, "") + back +
		n("G3", 2, 5, 2, "") + n("A2", 1, 5, 2, "") + n("A2", 1, 5, 2, "") + back + n("E3", 2, 6, 2, "")
	more := next + strings.ReplaceAll(next, `number="2"`, `number="3"`) + strings.ReplaceAll(next, `number="2"`, `number="4"`)
	require.Equal(t, "RRRLLLL"+"RLRLRL", handsIn(t, two+more), "the lower staff has two voices")
}
