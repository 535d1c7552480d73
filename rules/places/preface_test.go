package places

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// chords are events of given keys and fingers, whose notes are numbered on from 0.
func chords(grips ...[2][]int) []Event {
	out := single(make([]int, len(grips)), make([]int, len(grips)))
	next := 0
	for e := range grips {
		out[e].Keys, out[e].Fingers, out[e].Notes = grips[e][0], grips[e][1], nil
		for range grips[e][0] {
			out[e].Notes = append(out[e].Notes, next)
			next++
		}
	}
	return out
}

// What each sentence of the preface tells of the last event, no digit of which stands, and what is said where it departs. The
// cases are places that readers of a panel read to another finger (by hand).
func TestWhatThePrefaceTells(t *testing.T) {
	for name, c := range map[string]struct {
		events []Event
		shown  []int // notes with a digit
		by     Sentence
		said   []int
	}{
		"a key struck again":            {single([]int{60, 60}, []int{1, 2}), nil, StruckOn, []int{1}},
		"a key of a chord struck alone": {chords([2][]int{{53, 57}, {1, 3}}, [2][]int{{57}, {2}}), nil, StruckOn, []int{3}},
		"a key within the measure":      {single([]int{60, 64, 60}, []int{1, 3, 2}), nil, Returns, []int{1}},
		"likewise after another position that a digit shows": {
			single([]int{60, 62, 67, 62}, []int{1, 2, 4, 1}), []int{2}, Returns, []int{2},
		},
		"a figure that comes again": {
			single([]int{60, 64, 62, 65, 48, 71, 73, 75, 60, 64, 62, 65}, []int{1, 3, 2, 4, 5, 1, 2, 3, 1, 3, 2, 5}), nil, ComesAgain, []int{4},
		},
		"a figure that goes on": {
			single([]int{60, 64, 62, 65, 69, 67, 70, 74, 72, 75, 79, 77}, []int{1, 4, 2, 1, 4, 2, 1, 4, 2, 1, 4, 3}), nil, GoesOn, []int{2},
		},
		"a figure that goes on, the second time": {
			single([]int{60, 64, 62, 65, 62, 65, 64, 67}, []int{1, 3, 2, 4, 1, 3, 2, 5}), nil, GoesOn, []int{4},
		},
		"an octave by other fingers":            {chords([2][]int{{48}, {5}}, [2][]int{{60, 72}, {1, 4}}), nil, Grip, []int{1, 5}},
		"an octave on black keys":               {chords([2][]int{{48}, {5}}, [2][]int{{61, 73}, {1, 4}}), nil, Silent, nil},
		"a sixth after another":                 {chords([2][]int{{60, 69}, {2, 5}}, [2][]int{{59, 67}, {1, 4}}), nil, Grip, []int{1, 5}},
		"a third after a rest":                  {apart(chords([2][]int{{60}, {1}}, [2][]int{{62, 65}, {1, 3}})), nil, Silent, nil},
		"a chord by other fingers":              {chords([2][]int{{48}, {5}}, [2][]int{{60, 64, 67}, {1, 2, 4}}), nil, Grip, []int{1, 0, 5}},
		"a key of a chord that had a finger":    {chords([2][]int{{60, 67}, {1, 5}}, [2][]int{{67, 72}, {2, 5}}, [2][]int{{60, 64}, {2, 4}}), nil, Shown, nil},
		"a third, as the hand lies":             {chords([2][]int{{60}, {1}}, [2][]int{{62, 65}, {1, 3}}), nil, Grip, []int{2, 4}},
		"a third that the hand does not lie on": {chords([2][]int{{60, 64}, {1, 2}}, [2][]int{{57, 61}, {1, 2}}), nil, Shown, nil},
		"the next key":                          {single([]int{60, 62}, []int{1, 3}), nil, Position, []int{2}},
		"the third key":                         {single([]int{64, 60}, []int{3, 2}), nil, Position, []int{1}},
		"beyond the hand":                       {single([]int{60, 69}, []int{1, 4}), nil, Position, []int{5}},
		"a move says nothing":                   {single([]int{67, 69}, []int{5, 3}), nil, Silent, nil},
		"a figure that comes again on a key that had another finger in the measure": {
			single([]int{60, 64, 62, 65, 48, 71, 73, 75, 65, 60, 64, 62, 65}, []int{1, 3, 2, 4, 5, 1, 2, 3, 4, 1, 3, 2, 5}), nil, ComesAgain, []int{4},
		},
		"a key that had a finger, though the hand moves": {
			single([]int{60, 62, 64, 65, 67, 64}, []int{1, 2, 3, 1, 2, 1}), nil, Returns, []int{3},
		},
		"two keys far apart, of which one had a finger": {
			chords([2][]int{{60}, {2}}, [2][]int{{64}, {3}}, [2][]int{{60, 67}, {2, 4}}), nil, Grip, []int{1, 5},
		},
		"two keys far apart, which both had fingers": {
			chords([2][]int{{60}, {1}}, [2][]int{{67}, {4}}, [2][]int{{64}, {2}}, [2][]int{{60, 67}, {1, 5}}), nil, Returns, []int{1, 4},
		},
		"a figure that came again at once, and otherwise before": {
			single([]int{60, 64, 62, 65, 48, 71, 60, 64, 62, 65, 60, 64, 62, 65}, []int{1, 3, 2, 4, 5, 1, 1, 4, 2, 5, 1, 4, 2, 4}), nil,
			ComesAgain, []int{5},
		},
		"a third goes on by step": {chords([2][]int{{60, 64}, {1, 3}}, [2][]int{{62, 65}, {1, 3}}), nil, Grip, []int{2, 4}},
		"a key struck again in a figure that comes again": {
			single([]int{60, 64, 62, 62, 48, 71, 73, 75, 60, 64, 62, 62}, []int{1, 4, 3, 2, 5, 1, 2, 3, 1, 4, 3, 3}), nil, ComesAgain, []int{2},
		},
	} {
		p, e := NewPreface(c.events), len(c.events)-1
		shows := func(i int) bool { return slices.Contains(c.shown, i) }
		at, by := p.Departs(e, shows)
		require.Equal(t, c.by, by, name)
		if c.by == Silent {
			require.Empty(t, at, name)
			continue
		}
		require.NotEmpty(t, at, name)
		said, _ := p.Tells(e)
		require.Equal(t, c.said, said, name)
		_, by = p.Departs(e, func(int) bool { return true })
		require.Equal(t, Silent, by, "%s, with its digit", name)
	}
}

// What comes again is known from its second note on, at once on the same keys from the first; where a digit in it has shown another
// finger it holds no more in the measure, but in the next it does (panel: a figure altered, whose rest was left to memory).
func TestHowFarAFigureHolds(t *testing.T) {
	keys := []int{64, 62, 65, 60, 77, 76, 64, 62, 65, 60}
	fingers := []int{2, 1, 4, 1, 5, 4, 2, 1, 4, 1}
	measured := func(fingers []int, second int) *Preface { // the second time lies in the measure after the first, or from an event on in the one after that
		events := single(keys, fingers)
		for e := range events {
			switch {
			case e >= second:
				events[e].Measure = 2
			case e >= 6:
				events[e].Measure = 1
			}
		}
		return NewPreface(events)
	}
	p := measured(fingers, len(keys))
	_, by := p.Tells(6)
	require.Equal(t, Position, by, "its first note lies as the hand does")
	said, by := p.Tells(7)
	require.Equal(t, ComesAgain, by)
	require.Equal(t, []int{1}, said)
	otherwise := []int{2, 1, 4, 1, 5, 4, 2, 3, 4, 1}
	_, by = measured(otherwise, len(keys)).Tells(9)
	require.Equal(t, Position, by, "two notes after another finger")
	_, by = measured(otherwise, 9).Tells(9)
	require.Equal(t, ComesAgain, by, "in the next measure")
	_, by = NewPreface(single([]int{60, 64, 60, 64, 60, 64}, []int{1, 3, 1, 3, 1, 3})).Tells(2)
	require.Equal(t, ComesAgain, by, "at once on the same keys from the first note")
}

// A fifth is one as it is written: a diminished fifth is wide, an augmented fourth is not.
func TestAFifthIsOneAsItIsWritten(t *testing.T) {
	for steps, want := range map[int][]int{4: {1, 5}, 3: nil} {
		events := single([]int{50, 59}, []int{1, 1})
		events[1].Keys, events[1].Fingers, events[1].Notes, events[1].Steps = []int{59, 65}, []int{1, 4}, []int{1, 2}, []int{40, 40 + steps}
		said, by := NewPreface(events).Tells(1)
		require.Equal(t, want, said, "%d steps", steps)
		require.Equal(t, want == nil, by == Shown, "%d steps", steps)
	}
}

// Two keys near each other lie as the hand does only where all keys of the chord before say so.
func TestTwoKeysAfterAChord(t *testing.T) {
	for _, c := range []struct {
		before [2]int // fingers on d and a
		want   []int
	}{{[2]int{1, 5}, []int{2, 4}}, {[2]int{1, 4}, nil}} {
		events := single([]int{62, 64}, []int{1, 1})
		events[0].Keys, events[0].Fingers, events[0].Notes, events[0].Steps = []int{62, 69}, c.before[:], []int{0, 1}, []int{36, 40}
		events[1].Keys, events[1].Fingers, events[1].Notes, events[1].Steps = []int{64, 67}, []int{2, 4}, []int{2, 3}, []int{37, 39}
		said, by := NewPreface(events).Tells(1)
		require.Equal(t, c.want, said)
		require.Equal(t, c.want == nil, by == Shown)
	}
}

// What only begins like a figure does not go on: of a statement less than half is none.
func TestWhatOnlyBeginsLikeAFigure(t *testing.T) {
	require.Equal(t, []int{-1, -1, -1, 0, 1, 2, -1, -1}, Sequences(single([]int{74, 73, 76, 74, 73, 76, 75, 79}, make([]int, 8))))
	require.Equal(t, []int{-1, -1, -1, 0, 1, 2, 3, 4}, Sequences(single([]int{74, 73, 76, 74, 73, 76, 75, 74}, make([]int, 8))), "more than half")
}

// Keys that are struck equally often, one after the other, are a figure that goes on: the fingers change on each as on the first.
func TestKeysStruckEquallyOften(t *testing.T) {
	keys, fingers := []int{62, 62, 62, 62, 67, 67, 67, 67, 60, 60, 60, 60, 62}, []int{4, 3, 2, 1, 4, 3, 2, 1, 4, 3, 2, 1, 4}
	require.Equal(t, []int{-1, 0, 1, 2, 0, 1, 2, 3, 4, 5, 6, 7, -1}, Sequences(single(keys, fingers)))
	p := NewPreface(single(keys, fingers))
	for e := 4; e < 12; e++ {
		said, by := p.Tells(e)
		require.Equal(t, []int{fingers[e]}, said, "event %d", e)
		require.Equal(t, map[bool]Sentence{true: Position, false: GoesOn}[e == 4], by, "event %d", e) // its first note lies so, too
	}
	uneven := []int{62, 62, 62, 62, 67, 67, 67, 60, 60, 60, 60}
	require.NotEqual(t, 0, Sequences(single(uneven, uneven))[4], "three after four")
	late := single(keys[:8], fingers[:8])
	late[6].At += 6
	require.NotEqual(t, 0, Sequences(late)[4], "in another time")
	pairs := []int{62, 62, 67, 67, 60, 60}
	require.NotEqual(t, 0, Sequences(single(pairs, pairs))[2], "two strokes are none")
}

// Of a key that is the one before with another accidental the steps of the scale tell nothing: its digit stands, unless the key had
// its finger within the measure.
func TestAnotherAccidentalIsShown(t *testing.T) {
	events := single([]int{60, 61, 62}, []int{1, 2, 3})
	for e, step := range []int{35, 35, 36} {
		events[e].Steps = []int{step}
	}
	none := func(int) bool { return false }
	p := NewPreface(events)
	at, by := p.Departs(1, none)
	require.Equal(t, []int{0}, at)
	require.Equal(t, Shown, by)
	at, _ = p.Departs(1, func(i int) bool { return i == 1 })
	require.Empty(t, at, "with its digit")
	at, _ = p.Departs(2, none)
	require.Empty(t, at, "a step on")
	events = single([]int{61, 60, 61}, []int{2, 1, 2})
	for e := range events {
		events[e].Steps = []int{35}
	}
	at, _ = NewPreface(events).Departs(2, none)
	require.Empty(t, at, "the key had it before")
}

// apart puts a long rest before the last event.
func apart(events []Event) []Event {
	last := &events[len(events)-1]
	last.At, last.End = last.At+silence+1, last.End+silence+1
	return events
}

// Of a figure that goes on by step and a few of its keys that came so a measure before, with other fingers, the longer tells:
// four keys of an exercise are not taken for those that the statement before had.
func TestTheLongerOfTwoFiguresTells(t *testing.T) {
	keys, fingers := []int{}, []int{}
	for step := range 6 {
		for k, up := range []int{0, 5, 4, 5, 3, 4, 2, 3} {
			white := []int{48, 50, 52, 53, 55, 57, 59, 60, 62, 64, 65}
			keys, fingers = append(keys, white[step+up]), append(fingers, []int{1, 5, 4, 5, 3, 4, 2, 3}[k])
		}
	}
	p := NewPreface(single(keys, fingers))
	require.NotEqual(t, -1, p.like.at[20], "these keys came so")
	require.NotEqual(t, fingers[20], fingers[p.like.at[20]], "with other fingers")
	for e := 9; e < len(keys); e++ {
		said, by := p.Tells(e)
		require.Equal(t, []int{fingers[e]}, said, "event %d", e)
		require.Equal(t, GoesOn, by, "event %d", e)
	}
}

// The hand keeps its position over wider steps, too, whichever way the line goes on: a finger for each step of the scale.
func TestTheHandKeepsItsPositionOverWiderSteps(t *testing.T) {
	for _, c := range []struct {
		keys    []int
		finger  int
		said    int
		because string
	}{
		{[]int{60, 64, 67}, 1, 3, "a third, away from the thumb"},
		{[]int{60, 67, 72}, 1, 5, "a fifth"},
		{[]int{60, 64, 67}, 3, 5, "up to the outermost"},
		{[]int{60, 62, 67}, 1, 2, "a step"},
		{[]int{67, 64, 60}, 5, 3, "a third, towards the thumb"},
		{[]int{67, 60, 55}, 5, 1, "a fifth, to the thumb"},
	} {
		p := NewPreface(single(c.keys, []int{c.finger, 0, 0}))
		said, by := p.Tells(1)
		require.Equal(t, Position, by, c.because)
		require.Equal(t, []int{c.said}, said, c.because)
	}
}

// A figure that has departed from its last time with a digit is read by the position from there on.
func TestAFigureThatDepartsIsNotReadFurther(t *testing.T) {
	keys := []int{60, 64, 62, 65, 48, 71, 73, 75, 60, 64, 62, 65}
	p := NewPreface(single(keys, []int{1, 3, 2, 4, 5, 1, 2, 3, 1, 4, 3, 5}))
	none := func(int) bool { return false }
	_, by := p.Departs(9, none)
	require.Equal(t, ComesAgain, by)
	_, by = p.Departs(10, none)
	require.Equal(t, Silent, by)
	require.Equal(t, 0, p.From(8))
	require.Equal(t, -1, p.From(9))
	require.False(t, p.AsLast(10))
}
