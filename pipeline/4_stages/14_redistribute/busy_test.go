package redistribute

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
)

// A hand in a tremolo takes nothing, nor the right hand that holds a key far above (what readers of offers said, and
// common practice).
func TestAHandThatIsBusyElsewhereTakesNothing(t *testing.T) {
	busy := func(p staged, hand, id int) bool { return p.loaded(t).busyElsewhere(hand, moving(id)) }
	require.True(t, busy(staged{Right: "A6/1", Left: "r/2 D3+F4"}, 1, 1), "more than two octaves above")
	require.False(t, busy(staged{Right: "A4/1", Left: "r/2 D3+F4"}, 1, 1), "less than two octaves")
	require.False(t, busy(staged{Right: "r/2 A6", Left: "D2/1"}, 0, 0), "what the left hand holds, the pedal has")
	f := staged{Right: "A5/1", Left: "r/2 D4+F4"}.loaded(t)
	f.in.Score.Notes[0].Tremolo = score.Tremolo{Strokes: 3}
	require.True(t, f.busyElsewhere(1, moving(1)), "a tremolo")
}

// Of a group of strokes no tail is left, and of a row of like grips no end is torn.
func TestGroupsAndRowsStayWhole(t *testing.T) {
	tail := func(right, left string, ids ...int) bool {
		f := staged{Right: right, Left: left}.loaded(t)
		return f.leavesTail(troubleFor(f, 1, Line, ids...), moving(ids...))
	}
	require.True(t, tail("E5/16 D5 C5 B4 r/4 C5/4 r", "r/4 A3/16 G3 F3 E3 r/2", 5, 6, 7), "three of four")
	require.False(t, tail("E5/16 D5 C5 B4 r/4 C5/4 r", "r/4 A3/16 G3 F3 E3 r/2", 5, 6, 7, 8), "the whole group")
	require.False(t, tail("E5/16 D5 C5 B4 r/4 C5/4 r", "r/4 A3/16 G3 F3 E3 r/2", 5, 6), "two of four")
	row := func(left string, reason string, ids ...int) bool {
		f := staged{Right: "r/1", Left: left}.loaded(t)
		return f.endsRow(troubleFor(f, 1, reason, ids...), moving(ids...))
	}
	require.True(t, row("C3+E4/4 D3+F4 E3+G4 F3+A4", Reach, 7), "the last of four tenths")
	require.False(t, row("C3+E4/4 D3+F4 E3+G4 F3+A4", Line, 7), "other reasons have rules of their own")
	require.False(t, row("C3+E4/4 D3+D4 E3+G4 F3+A4", Reach, 7), "an octave is among them")
	require.False(t, row("C3+E4/4 D3+F4 E3+G4 F3+A4", Reach, 5, 7), "more than one")
}

// A chord within an octave is no grip for two hands, whatever the fingers that stand there make of it.
func TestAChordWithinAnOctaveIsNoReach(t *testing.T) {
	within := func(left, reason string, ids ...int) bool {
		f := staged{Right: "r/1", Left: left}.loaded(t)
		return f.withinOctave(troubleFor(f, 1, reason, ids...))
	}
	require.True(t, within("F3+A3+B3+F4/1", Reach, 0))
	require.False(t, within("F3+A3+B3+G4/1", Reach, 0), "a ninth")
	require.False(t, within("F3+A3+B3+F4/1", Held, 0), "another reason")
}
