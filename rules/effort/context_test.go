package effort

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/fingering"
)

// contextsAt lists the contexts of an event as a table names them, a line for each factor: the keys it looks at,
// lowest first.
func contextsAt(t *testing.T, p passage, event int) string {
	line := p.line()
	grips := make(only, len(line.Events))
	for e := range grips {
		grips[e] = make([]fingering.Grip, 1)
	}
	m := NewPricer(&Weights{}, p.profile()).Model(line, grips)
	var b strings.Builder
	for _, f := range m.Factors(event) {
		if len(f.Contexts) == 0 {
			continue
		}
		fmt.Fprintf(
			&b, "%s",
			[...]string{
				NoteFactor: "note", LinkFactor: "link", RowFactor: "row", ShapeFactor: "shape", DoubleFactor: "double",
			}[f.Kind],
		)
		for k := range [...]int{NoteFactor: 1, LinkFactor: 2, RowFactor: 3, ShapeFactor: 0, DoubleFactor: 0}[f.Kind] {
			fmt.Fprintf(&b, " %d", f.At[k])
		}
		b.WriteByte(':')
		for _, c := range f.Contexts {
			fmt.Fprint(&b, " ", c)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// What places of music the shipped table's contexts name. Intervals are semitones plus 32 (0: nothing there), colours
// bits (1: black); worked out by hand from the keys: c5 d5 f#5 e5 a#4 about f#5 are −6, −4, −2 and −8 semitones away.
func TestContextsNamePlacesOfMusic(t *testing.T) {
	for _, c := range []struct {
		passage
		event int
		want  []string
	}{
		{passage{keys: "c5 d5 f#5 e5 a#4 c6 c6 b5"}, 2, []string{
			"note 0: key:6,0 between:28,30,2 ahead2:28,30,24,5 behind2:26,28,30,2 window2:26,28,30,24,5 " +
				"key-between:6,28,30 ahead3:30,24,38,10 behind3:0,26,28,1 " +
				"range:4,5,0,3 turn:2,2,2,2,1 key-window2:6,26,28,30,24 window3:0,26,28,30,24,38,5 rests:1,1,1,1,1 " +
				"colours:5,1,1,1,1",
			"link 0 0: step:36,1 step-window:30,36,30,1 step-key:6,36",
			"row 0 0 0: steps:34,36,1 steps-colours:34,36,1,1 steps-key:2,34,36 steps-ahead:34,36,30,1 " +
				"steps-behind:0,34,36,1",
		}},
		// A leap of fourteen semitones up from a#4, and the same key again.
		{passage{keys: "c5 d5 f#5 e5 a#4 c6 c6 b5"}, 5, []string{
			"note 0: key:0,0 between:18,32,4 ahead2:18,32,31,8 behind2:24,18,32,4 window2:24,18,32,31,8 " +
				"key-between:0,18,32 ahead3:32,31,0,0 behind3:26,24,18,10 " +
				"range:0,1,0,7 turn:1,3,1,2,0 key-window2:0,24,18,32,31 window3:26,24,18,32,31,0,8 rests:1,1,1,2,0 " +
				"colours:8,1,1,2,1",
			"link 0 0: step:46,2 step-window:38,46,32,2 step-key:0,46",
			"row 0 0 0: steps:26,46,1 steps-colours:26,46,2,1 steps-key:10,26,46 steps-ahead:26,46,32,2 " +
				"steps-behind:34,26,46,2",
		}},
		{passage{keys: "c5 d5 f#5 e5 a#4 c6 c6 b5"}, 0, []string{
			"note 0: key:0,0 between:0,34,0 ahead2:0,34,38,1 behind2:0,0,34,0 window2:0,0,34,38,1 " +
				"key-between:0,0,34 ahead3:34,38,36,2 behind3:0,0,0,0 " +
				"range:3,2,0,0 turn:2,1,0,0,0 key-window2:0,0,0,34,38 window3:0,0,0,34,38,36,1 rests:0,1,0,3,0 " +
				"colours:1,0,0,3,3",
		}},
		// Two thirds, a chord of which one key is held, a key beside it, and a leap so wide that nineteen semitones
		// stand for it.
		{passage{keys: "c5+e5 d5+f#5 c#5+e5:2+a#5 g5 c3"}, 1, []string{
			"note 0: key:2,0 between:30,31,1 ahead2:30,31,37,2 behind2:0,30,31,1 window2:0,30,31,37,2 " +
				"key-between:2,30,31 ahead3:31,37,13,4 behind3:0,0,30,0 " +
				"range:3,7,0,1 turn:1,2,1,2,0 key-window2:2,0,30,31,37 window3:0,0,30,31,37,13,2 rests:1,1,1,1,0 " +
				"colours:2,0,1,1,3 in-chord:0,1,4,0,0 chord-line:0,1,30,31",
			"note 1: key:6,0 between:30,36,3 ahead2:30,36,33,6 behind2:0,30,36,3 window2:0,30,36,33,6 " +
				"key-between:6,30,36 ahead3:36,33,13,12 behind3:0,0,30,1 " +
				"range:2,7,0,2 turn:1,1,1,2,1 key-window2:6,0,30,36,33 window3:0,0,30,36,33,13,6 rests:1,1,1,3,1 " +
				"colours:6,0,1,3,3 in-chord:1,0,0,4,1 chord-line:1,0,30,36",
			"shape: shape:5,0,0,0,0 shape-colours:5,0,0,0,0,1 shape-key:5,0,0,0,0,2 shape-line:5,0,0,0,0,30,36",
			"link 0 0: step:34,0 step-window:0,34,31,0 step-key:2,34",
			"link 1 1: step:34,1 step-window:0,34,36,1 step-key:6,34",
			"double: double:4,4,34 double-colours:4,4,34,1"}},
		{passage{keys: "c5+e5 d5+f#5 c#5+e5:2+a#5 g5 c3"}, 3, []string{
			"note 1: key:7,0 between:29,13,0 ahead2:29,13,0,0 behind2:27,29,13,0 window2:27,29,13,0,0 " +
				"key-between:7,29,13 ahead3:13,0,0,0 behind3:25,27,29,0 " +
				"range:0,7,0,4 turn:1,2,3,2,0 key-window2:7,27,29,13,0 window3:25,27,29,13,0,0,0 rests:1,1,1,1,0 " +
				"colours:0,1,1,1,0 in-chord:1,0,0,3,0 chord-line:1,0,29,13",
			"shape: shape:4,0,0,0,2 shape-colours:4,0,0,0,2,0 shape-key:4,0,0,0,2,4 shape-line:4,0,0,0,2,29,13",
			"link 0 1: step:38,2 step-window:33,38,13,2 step-key:7,38",
			"link 2 1: step:29,2 step-window:28,29,13,2 step-key:7,29",
			"row 1 2 1: steps:36,29,0 steps-colours:36,29,6,0 steps-key:10,36,29 steps-ahead:36,29,13,6 " +
				"steps-behind:30,36,29,6",
			"row 0 0 1: steps:31,38,0 steps-colours:31,38,2,0 steps-key:1,31,38 steps-ahead:31,38,13,2 " +
				"steps-behind:30,31,38,2",
		}},
		// The left hand sees its keys in the mirror about d: the chord f# b is b f# to it, thumb first.
		{passage{keys: "g3+b3 a3+c4 f3+a#3", left: true}, 2, []string{
			"note 0: key:6,1 between:30,0,2 ahead2:30,0,0,4 behind2:31,30,0,2 window2:31,30,0,0,4 " +
				"key-between:6,30,0 ahead3:0,0,0,8 behind3:0,31,30,1 " +
				"range:0,0,0,2 turn:0,0,1,2,1 key-window2:6,31,30,0,0 window3:0,31,30,0,0,0,4 rests:1,1,1,0,1 " +
				"colours:4,1,1,0,0 in-chord:0,1,5,0,1 chord-line:0,1,30,0",
			"note 1: key:11,1 between:28,0,0 ahead2:28,0,0,0 behind2:30,28,0,0 window2:30,28,0,0,0 " +
				"key-between:11,28,0 ahead3:0,0,0,0 behind3:0,30,28,0 " +
				"range:0,0,0,2 turn:0,0,1,2,0 key-window2:11,30,28,0,0 window3:0,30,28,0,0,0,0 rests:1,1,1,0,0 " +
				"colours:0,1,1,0,0 in-chord:1,0,0,5,0 chord-line:1,0,28,0",
			"shape: shape:6,0,0,0,0 shape-colours:6,0,0,0,0,2 shape-key:6,0,0,0,0,6 shape-line:6,0,0,0,0,28,0",
			"link 0 0: step:34,1 step-window:33,34,0,1 step-key:6,34",
			"link 1 1: step:36,0 step-window:34,36,0,0 step-key:11,36",
			"double: double:3,5,34 double-colours:3,5,34,2",
			"row 1 1 1: steps:30,36,0 steps-colours:30,36,0,0 steps-key:7,30,36 steps-ahead:30,36,0,0 " +
				"steps-behind:0,30,36,0",
			"row 0 0 0: steps:31,34,0 steps-colours:31,34,1,0 steps-key:4,31,34 steps-ahead:31,34,0,1 " +
				"steps-behind:0,31,34,1",
		}},
	} {
		require.Equal(
			t, strings.Join(c.want, "\n")+"\n", contextsAt(t, c.passage, c.event), "%s, event %d", c.keys, c.event,
		)
	}
	require.Contains(
		t, contextsAt(t, passage{keys: "c3 c4+a5"}, 1), "in-chord:0,1,20,0,0", "twenty semitones stand for wider ones",
	)
	require.Contains(t, contextsAt(t, passage{keys: "c3 c4+a5"}, 1), "in-chord:1,0,0,20,0")
	require.Contains(t, contextsAt(t, passage{keys: "c3+a5 c3+g#5"}, 1), "double:30,30,32", "thirty for wider chords")
	rest := passage{keys: "c5 d5", each: func(n *fingering.Note) { n.Detached = true }}
	require.Contains(t, contextsAt(t, rest, 0), "rests:0,0,0,3,0", "a note let go at once")
}

// A price in a context speaks for the combination of fingers it names, in the place it names, and nowhere else.
func TestHabitSpeaksInItsPlace(t *testing.T) {
	for _, c := range []struct {
		context string
		combo   int32
		keys    string
		with    string // fingers that are meant
		others  []string
	}{
		{"key:4,0", 2, "c5 e5 g5", "135", []string{"125", "345"}},
		{"step:36,0", 0*5 + 2, "c5 e5 f5", "134", []string{"124", "234"}},
		{"steps:36,35,1", 0*25 + 1*5 + 2, "c5 e5 g5", "123", []string{"124", "135"}},
		{"shape:5,0,0,0,0", 1, "c5+e5", "13", []string{"12", "24"}},
		{"double:4,3,34", 1*10 + 5, "c5+e5 d5+f5", "1324", []string{"1325", "1424"}},
	} {
		read, err := ParseContext(c.context)
		require.NoError(t, err)
		require.Equal(t, c.context, read.String())
		p := passage{keys: c.keys}
		w := &Weights{Habit: map[Context][]Price{read: {{c.combo, -900}}}}
		for _, other := range c.others {
			require.Zero(t, p.costs(t, w, Aims{}, other), "%s: %s on %s", c.context, other, c.keys)
		}
		require.InDelta(t, -900, p.costs(t, w, Aims{}, c.with), 1, "%s: %s on %s", c.context, c.with, c.keys)
		require.InDelta(t, -450, p.costs(t, w, Aims{On: true, Habit: 50}, c.with), 1, "half the weight of habit")
		require.Zero(t, passage{keys: "a4 a4 a4"}.costs(t, w, Aims{}, "234"), c.context)
	}
}

// Shapes are numbered by their fingers in lexical order; a grip whose fingers do not rise has no number.
func TestShapesAreNumbered(t *testing.T) {
	grip := func(fingers ...fingering.Finger) (g fingering.Grip) {
		copy(g.Fingers[:], fingers)
		return g
	}
	for i, fingers := range [][]fingering.Finger{
		{1, 2}, {1, 3}, {1, 4}, {1, 5}, {2, 3}, {2, 4}, {2, 5}, {3, 4}, {3, 5}, {4, 5},
	} {
		require.Equal(t, i, Rank(grip(fingers...), 2))
	}
	require.Equal(t, 9, Rank(grip(3, 4, 5), 3))
	require.Equal(t, 1, Rank(grip(1, 2, 3, 5), 4))
	require.Equal(t, 0, Rank(grip(1, 2, 3, 4, 5), 5))
	require.Equal(t, -1, Rank(grip(2, 1), 2))
	require.Equal(t, -1, Rank(grip(1, 1), 2))
}
