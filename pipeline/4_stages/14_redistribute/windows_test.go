package redistribute

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// loaded is the finder at work on a passage.
func (p staged) loaded(t *testing.T) *finder {
	f := &finder{in: p.material(t)}
	f.load(0)
	return f
}

// windows lists where a passage is in trouble: hand, reason, first and last moment.
func (p staged) windows(t *testing.T) (out []string) {
	for _, w := range p.loaded(t).troubles() {
		out = append(out, fmt.Sprintf("%s %s %d-%d", handOf[w.hand], w.reason, w.from, w.to))
	}
	return out
}

// sets writes sets of notes, each sorted.
func sets(all []map[int]bool) (out []string) {
	for _, s := range all {
		var ids []int
		for id := range s {
			ids = append(ids, id)
		}
		slices.Sort(ids)
		out = append(out, strings.Trim(fmt.Sprint(ids), "[]"))
	}
	return out
}

const aTenth = "C4+G4+E5"

// Troubles close together are one window, of sixteen strokes at most; of rhythms, beats in which the other hand
// rests stand apart from those in which it plays.
func TestWindowsOfTrouble(t *testing.T) {
	three, two := "C5/8t D5 E5 F5 E5 D5", "E4/8 F4 E4 F4"
	for _, c := range []struct {
		staged
		want []string
	}{
		{staged{Right: strings.Repeat(aTenth+"/8 ", 20), Left: "C3/1"}, []string{"R reach 0-15", "R reach 16-19"}},
		{staged{Right: aTenth + "/8 G5 " + aTenth + " G5 A5 " + aTenth, Left: "C3/1"}, []string{"R reach 0-2", "R reach 5-5"}},
		{staged{Left: "C3+G3+E4/8 C3 C3+G3+E4 C3 G2 C3+G3+E4", Right: "C5/1"}, []string{"L reach 0-2", "L reach 5-5"}},
		{staged{Right: "r/32 " + strings.Repeat("E5/32 F5 ", 14), Right2: "C4/1", Left: "C3/1"}, []string{"R held 0-15"}},
		// up to its end, not beyond
		{staged{Right: "r/8 E5 F5 G5 A5", Right2: "C4/2", Left: "C3/1"}, []string{"R held 0-3"}},
		{staged{Right: three, Right2: two, Left: "r/4 C3"}, []string{"R rhythm 0-3", "R rhythm 4-7"}},
		{staged{Right: three, Right2: two, Left: "r/2 C3"}, []string{"R rhythm 0-7"}},
		{staged{Right: three, Right2: two, Left: "C3/4 C3 C3"}, []string{"R rhythm 0-3", "R rhythm 4-7"}},
		{staged{Right: "E4/16 E6 E4 E6", Left: "r/4 C3", Tempo: 160}, []string{"R speed 0-3"}},
		{staged{Right: "E4/16 E6 E4 E6", Left: "r/4 C3"}, nil},
		{staged{Right: aTenth + "/2", Right2: "r/4 A4", Left: "C3/1"}, []string{"R reach 0-0", "R held 0-1"}},
	} {
		require.Equal(t, c.want, c.windows(t), "%s %s / %s", c.Right, c.Right2, c.Left)
	}
}

// What the other hand might take: up to three keys of the grips from its side, of one grip or of all; what lies on
// its side of the middle; a voice; and, where it rests, whole strokes about the trouble, at most eight.
func TestWhatTheOtherHandMightTake(t *testing.T) {
	for _, c := range []struct {
		staged
		want string // of the first window
	}{
		{staged{Right: aTenth + "/2", Left: "C3/2"}, "0; 0 1; 0 1 2"},
		{staged{Right: "C4+D4+E4+F4+G4+A4/2", Left: "C3/2"}, "0; 0 1; 0 1 2"}, // of six keys three
		{staged{Right: aTenth + "/4 D4+A4+F5", Left: "C3/4 D3"}, "0; 3; 0 3; 0 1; 3 4; 0 1 3 4; 0 1 2 3 4 5; 3 4 5; 0 1 3"},
		{staged{Right: aTenth + "/4 D4+A4+F5 G5", Left: "r/1 C3"}, "0; 3; 0 3; 0 1; 3 4; 0 1 3 4; 0 1 2 3 4 5; 3 4 5; 0 1 3; 0 1 2 3 4 5 6; 3 4 5 6"},
		{staged{Left: "C3+G3+E4/4 D3+A3+F4", Right: "C5/4 C5"}, "4; 7; 4 7; 3 4; 6 7; 3 4 6 7; 2 3 4 5 6 7; 5 6 7; 4 6 7"},
		{staged{Right: "E4/16 E6 E4 E6", Left: "r/4 C3", Tempo: 160}, "0 1 2 3; 3; 0 2; 0; 0 1; 0 1 2; 1; 1 2; 1 2 3; 2; 2 3"},
		// a rhythm goes over whole
		{staged{Right: "C5/8t D5 E5", Right2: "E4/8 F4", Left: "r/4 C3"}, "3 4; 0 1 2"},
		{staged{Right: aTenth + "/2 ~" + aTenth, Left: "C3/1"}, "0 3; 0 1 3 4; 0 1 2 3 4 5"}, // with what is tied on
	} {
		f := c.loaded(t)
		require.Equal(t, c.want, strings.Join(sets(f.candidates(f.troubles()[0])), "; "), "%s %s / %s", c.Right,
			c.Right2, c.Left)
	}
	runs := staged{Right: "C5/16 D5 E5 F5 G5 A5 B5 " + aTenth + " B5 A5 G5 F5", Left: "r/4 r r C3"}
	f := runs.loaded(t)
	for _, s := range f.candidates(f.troubles()[0]) {
		require.LessOrEqual(t, len(s), 7+3, "eight strokes at most")
	}
	require.Contains(t, sets(f.candidates(f.troubles()[0])), "0 1 2 3 4 5 6 7 8 9", "the run up to the wide grip")
	require.NotContains(t, sets(f.candidates(f.troubles()[0])), "0 1 2 3 4 5 6 7 8 9 10")
}

// moving is a set of notes that change hands.
func moving(ids ...int) map[int]bool {
	out := map[int]bool{}
	for _, id := range ids {
		out[id] = true
	}
	return out
}

// A note of a line is not taken out of it alone: where the line goes on about it, or nothing is left of it.
func TestALineIsNotBrokenForOneNote(t *testing.T) {
	alone := func(right string, reason string, ids ...int) bool {
		f := staged{Right: right, Left: "r/4 r r C3"}.loaded(t)
		return f.flickers(trouble{hand: 0, reason: reason, from: 0, to: len(f.moments) - 1}, moving(ids...))
	}
	require.True(t, alone("E4/4 C4 E4", Reach, 1))
	require.True(t, alone("E4/4 C4 C6", Reach, 1), "the line before it")
	require.True(t, alone("C6/4 C4 E4", Reach, 1), "the line after it")
	require.True(t, alone("C4/4 E4 C6", Reach, 0), "the first note")
	require.True(t, alone("C6/4 E4 C4", Reach, 2), "the last note")
	require.False(t, alone("E5/4 C4 E5", Reach, 1), "a key so far away is no line")
	require.False(t, alone("A4/4 C4 A4", Reach, 1), "a sixth or more")
	require.True(t, alone("G#4/4 C4 A5", Reach, 1))
	require.False(t, alone("E4/4 C4+G4 E4", Reach, 1), "something of the stroke stays")
	require.False(t, alone("E4/4 C4 D4 E4 F4", Reach, 1, 2, 3), "three notes are a stretch of it")
	require.True(t, alone("E4/4 C4 D4 E4 F4", Reach, 1, 2))
	require.False(t, alone("E4/4 C4 E4", Rhythm, 1), "a voice goes over whole")
	require.True(t, alone("E4/4 C4 E4", Reach), "nothing would be taken")
}

// Of a leap the near end changes hands; and wherever notes go over, the left hand stays below the right by what
// sounds.
func TestHandsKeepTheirSides(t *testing.T) {
	leap := staged{Right: "E4/16 E6 E4 E6", Left: "r/4 C3", Tempo: 160}.loaded(t)
	all := trouble{hand: 0, reason: Speed, from: 0, to: 3}
	require.False(t, leap.crosses(all, moving(0, 2)))
	require.True(t, leap.crosses(all, moving(1)))
	low := staged{Left: "C2/16 C4 C2 C4", Right: "r/4 C5", Tempo: 160}.loaded(t)
	require.False(t, low.crosses(trouble{hand: 1, reason: Speed, from: 0, to: 3}, moving(2, 4)))
	require.True(t, low.crosses(trouble{hand: 1, reason: Speed, from: 0, to: 3}, moving(1)))
	sided := func(right, left string, ids ...int) bool {
		f := staged{Right: right, Left: left}.loaded(t)
		return f.sided(trouble{hand: 0, reason: Reach, from: 0, to: 0}, moving(ids...))
	}
	require.True(t, sided(aTenth+"/2", "C3/2", 0))
	require.True(t, sided(aTenth+"/2", "F4/2", 0), "up to the keys that stay")
	require.False(t, sided(aTenth+"/2", "G4/2", 0), "on the same key")
	require.False(t, sided(aTenth+"/2", "A4/2", 0), "above them")
	require.False(t, sided(aTenth+"/2", "C3/2", 2), "the upper key would lie above the hand it leaves")
	held := func(left string) bool {
		f := staged{Right: "D4/2", Right2: "r/4 C4", Left: left}.loaded(t)
		return f.sided(trouble{hand: 0, reason: Reach, from: 0, to: 0}, moving(1))
	}
	require.False(t, held("E4/2"), "the left hand still holds a key above")
	require.True(t, held("E4/4 C3"), "it has let it go")
}

// How the finder sees a passage: keys from the lowest, strokes and beats in it, notes in the order of playing, and
// what may still sound.
func TestTheFinderSeesAPassage(t *testing.T) {
	f := staged{Right: "G4+C5/4 D5 E5", Right2: "E4/8 F4 G4 A4", Left: "r/4 C3/2"}.loaded(t)
	low, high, ok := f.outer(0, 0)
	require.True(t, ok)
	require.Equal(t, [2]int{64, 72}, [2]int{low, high})
	_, _, ok = f.outer(1, 0)
	require.False(t, ok, "the left hand rests")
	require.Equal(t, 5, len(f.moments))
	require.Equal(t, []int{5, 2, 6}, f.inOrder(moving(2, 5, 6)), "by time, then as written")
	require.Equal(t, 1, f.strokes(1, 0, 4))
	require.True(t, f.free(0, 0, 4))
	require.Equal(t, 3, f.beats(trouble{from: 0, to: 4}))
	require.Equal(t, 1, f.beats(trouble{from: 0, to: 1}))
	long := staged{Right: strings.Repeat("C5/16 ", 40), Left: "C3/1"}.loaded(t)
	require.Len(t, long.between(0, 30, 31), 24+2, "what was struck in the last 24 strokes")
	require.Len(t, long.between(0, 3, 99), 40)
	pedal := staged{Right: "C5/4 D5 E5", Left: "C3/4 ped C3 C3"}.loaded(t)
	require.Equal(t, []bool{false, true, true}, pedal.pedal)
	require.True(t, tooFar(60, 60, 84, 84, 90_000), "329 mm in 90 ms")
	require.False(t, tooFar(60, 60, 84, 84, 200_000))
	require.False(t, tooFar(60, 60, 72, 72, 1_000), "164.5 mm are no leap")
	require.False(t, tooFar(60, 84, 84, 96, 1_000), "measured from the nearest outer keys")
	require.False(t, tooFar(60, 60, 84, 84, 0), "no tempo is known")
}

// Both hands are searched anew for three strokes about what may change; the four beyond keep the fingers they have, and farther ones play
// no part.
func TestHowMuchIsFingeredAnew(t *testing.T) {
	f := staged{Right: strings.Repeat("C5/16 D5 E5 F5 ", 6), Left: "C3/1"}.loaded(t)
	for i := range f.in.Said {
		f.in.Said[i].Finger = 5 // as nobody would by himself
	}
	w := f.finger(11, 12, nil)
	anew, first, last := map[int]bool{}, 99, 0
	for _, n := range w.result[0].Notes {
		m := f.where.of(n.ID)
		first, last = min(first, m), max(last, m)
		if n.Finger != 5 {
			anew[m] = true
		}
	}
	require.Equal(t, [2]int{11 - 7, 12 + 7}, [2]int{first, last})
	for m := range anew {
		require.True(t, m >= 11-3 && m <= 12+3, "stroke %d", m)
	}
	require.True(t, anew[8] || anew[9])
	require.GreaterOrEqual(t, len(anew), 6, "nobody plays a line with one finger")
	begin := f.finger(0, 0, nil)
	require.Equal(t, 1+7, len(begin.result[0].Notes))
	end := f.finger(23, 23, nil)
	require.Equal(t, 1+7, len(end.result[0].Notes))
}
