package redistribute

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// No stroke is torn out of a quick row of equal ones (what readers of offers said, and common practice).
func TestNoStrokeIsTornOutOfItsRow(t *testing.T) {
	tears := func(left string, ids ...int) bool {
		f := staged{Right: "C6/1", Left: left}.loaded(t)
		return f.tearsRow(troubleFor(f, 1, Reach, ids...), moving(ids...))
	}
	require.True(t, tears("C3+G3+C4/8 C3+G3+C4 r/4 r/2", 3), "the next one keeps it")
	require.True(t, tears("C3+G3+C4/8 C3+G3+C4 r/4 r/2", 6), "the one before keeps it")
	require.False(t, tears("C3+G3+C4/8 C3+G3+C4 r/4 r/2", 3, 6), "both go")
	require.True(t, tears("C3+G3+C4/8 G3+C4 r/4 r/2", 3), "as part of another grip")
	require.False(t, tears("C3+G3+C4/8 G3+B3 r/4 r/2", 3), "another key")
	require.False(t, tears("C3+G3+C4/4 C3+G3+C4 r/2", 3), "slowly")
	require.False(t, tears("C3+G3+C4/8 C4 r/4 r/2", 3), "the key alone")
}

// No first note of a tune, and none joined to the next one.
func TestNoNoteIsTornOutOfATune(t *testing.T) {
	tears := func(left, left2 string, ids ...int) bool {
		f := staged{Right: "r/1", Left: left, Left2: left2}.loaded(t)
		return f.tearsTune(troubleFor(f, 1, Reach, ids...), moving(ids...))
	}
	require.True(t, tears("C3/1", "(F4/4 E4 D4 E4)", 1), "the first under a slur")
	require.True(t, tears("C3/1", "(F4/4 E4 D4 E4)", 2), "one in its midst")
	require.False(t, tears("C3/1", "(F4/4 E4 D4 E4)", 4), "its end")
	require.False(t, tears("C3/1", "(F4/4 E4 D4 E4)", 1, 2, 3), "most of it")
	require.True(t, tears("C3/1", "F4/4 E4 D4 r", 1), "the first of a voice that goes by steps")
	require.False(t, tears("C3/1", "F4/4 E4 D4 r", 2), "within a voice without a slur")
	require.False(t, tears("C3/1", "F4/4 D4 Bb3 F4", 3), "there is no tune after it")
	require.False(t, tears("C3/1", "r/4 F4 r D4", 1), "a rest parts them")
	require.False(t, tears("C3/1", "(F4/4 E3 D4 E4)", 1), "a leap parts them")
	require.False(t, tears("C3/1", "(D4+F4/4 C4+E4 D4+F4 r)", 2), "a chord is no tune")
}

// What is done with a grip is done with the same grip near by, or not at all.
func TestAGripThatStaysNearby(t *testing.T) {
	given := func(left string, given []int, offers ...[]int) (places []int) {
		f := staged{Right: "C5/1 C5 C5 C5", Left: left}.inMeasures(t)
		for _, n := range given {
			f.in.Said[n].Given = true
		}
		var all []fingering.Redistribution
		for _, notes := range offers {
			all = append(all, fingering.Redistribution{To: score.Right, Notes: notes, Reason: Reach})
		}
		for _, r := range f.consistent(all) {
			places = append(places, r.Notes[0])
		}
		return places
	}
	run := " E3/8 F3 G3 F3 E3 F3 "
	same := "C3+G3+E4/4" + run + "C3+G3+E4/1 r"
	require.Equal(t, []int{6, 15}, given(same, nil, []int{6}), "it goes there too")
	require.Equal(t, []int{6, 15}, given(same, nil, []int{6}, []int{15}), "which is offered already")
	require.Empty(t, given(same, []int{15}, []int{6}), "a digit stands there, and it stays")
	require.Equal(t, []int{6}, given("C3+G3+E4/4"+run+"r/1 r C3+G3+E4", []int{15}, []int{6}), "three measures later")
	require.Equal(t, []int{6}, given("C3+G3+E4/4"+run+"C3+G3+F4/1 r r", []int{15}, []int{6}), "another grip")
	f := staged{Right: "C5/1 C5 C5 C5", Left: same}.inMeasures(t)
	require.Len(t, f.consistent([]fingering.Redistribution{{To: score.Right, Notes: []int{6}, Reason: Collision}}), 1,
		"where hands meet the other hand is the reason")
}
