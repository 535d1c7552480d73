package effort

import (
	"fmt"
	"strconv"
	"strings"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Context names a place of music as habit sees it: the kind of context and up to nine small numbers, six bits each.
type Context uint64

const contextBits = 6

// context packs a kind 1–63 and its numbers 0–63.
func context(kind int, values ...int) Context {
	c := Context(kind)
	for i, v := range values {
		c |= Context(min(max(v, 0), 63)) << (contextBits * (i + 1))
	}
	return c
}

// String writes a context as kind:number,number…, the numbers in hexadecimal-free decimal.
func (c Context) String() string {
	kind := int(c & 63)
	n := contextKinds[kind].values
	parts := make([]string, n)
	for i := range n {
		parts[i] = strconv.Itoa(int(c >> (contextBits * (i + 1)) & 63))
	}
	return contextKinds[kind].name + ":" + strings.Join(parts, ",")
}

// Name is the kind of context by name.
func (c Context) Name() string { return contextKinds[c&63].name }

// ParseContext reads what String writes.
func ParseContext(s string) (Context, error) {
	name, rest, _ := strings.Cut(s, ":")
	kind, known := kindByName[name]
	if !known {
		return 0, fmt.Errorf("reading context %q: unknown kind %q", s, name)
	}
	var values [9]int
	n := 0
	for part := range strings.SplitSeq(rest, ",") {
		v, err := strconv.Atoi(part)
		if err != nil || v < 0 || v > 63 {
			return 0, fmt.Errorf("reading context %q: %q is no number from 0 to 63", s, part)
		}
		if n < len(values) {
			values[n] = v
		}
		n++
	}
	if n != contextKinds[kind].values {
		return 0, fmt.Errorf("reading context %q: %d numbers, not %d", s, n, contextKinds[kind].values)
	}
	return context(kind, values[:n]...), nil
}

var kindByName = func() map[string]int {
	out := map[string]int{}
	for kind, k := range contextKinds {
		if k.name != "" {
			out[k.name] = kind
		}
	}
	return out
}()

// The kinds of context. Intervals are in semitones plus 32, no neighbour is 0; colours are bits, 1 for black.
const (
	_ = iota
	noteClass
	noteNeighbours
	noteAhead2
	noteBehind2
	noteWindow2
	noteClassNeighbours
	noteAhead3
	noteBehind3
	noteRange
	noteTurn
	noteInChord
	noteClassWindow2
	noteWindow3
	noteRests
	noteChordLine
	noteColours
	linkStep
	linkWindow
	linkClass
	rowSteps
	rowColours
	rowClass
	rowAhead
	rowBehind
	shapeKeys
	shapeColours
	shapeClass
	shapeLine
	doubleKeys
	doubleColours
	kinds
)

// contextKinds gives the name of each kind, as the tables of weights write it, and how many numbers it has.
var contextKinds = [64]struct {
	name   string
	values int
}{
	noteClass:           {"key", 2},
	noteNeighbours:      {"between", 3},
	noteAhead2:          {"ahead2", 4},
	noteBehind2:         {"behind2", 4},
	noteWindow2:         {"window2", 5},
	noteClassNeighbours: {"key-between", 3},
	noteAhead3:          {"ahead3", 4},
	noteBehind3:         {"behind3", 4},
	noteRange:           {"range", 4},
	noteTurn:            {"turn", 5},
	noteInChord:         {"in-chord", 5},
	noteClassWindow2:    {"key-window2", 5},
	noteWindow3:         {"window3", 7},
	noteRests:           {"rests", 5},
	noteChordLine:       {"chord-line", 4},
	noteColours:         {"colours", 5},
	linkStep:            {"step", 2},
	linkWindow:          {"step-window", 4},
	linkClass:           {"step-key", 2},
	rowSteps:            {"steps", 3},
	rowColours:          {"steps-colours", 4},
	rowClass:            {"steps-key", 3},
	rowAhead:            {"steps-ahead", 4},
	rowBehind:           {"steps-behind", 4},
	shapeKeys:           {"shape", 5},
	shapeColours:        {"shape-colours", 6},
	shapeClass:          {"shape-key", 6},
	shapeLine:           {"shape-line", 7},
	doubleKeys:          {"double", 3},
	doubleColours:       {"double-colours", 4},
}

// window is the neighbourhood of a stroke: intervals to the three strokes before and after, and their colours.
type window struct {
	d [7]int // plus 32; 0 where there is none; [3] is the stroke itself
	c [7]int
}

func (m *music) window(s int32) (w window) {
	k := m.key(s)
	at := func(i int, o int32) {
		w.d[i] = 32 + min(max(m.key(o)-k, -19), 19)
		if hand.Black(m.key(o)) {
			w.c[i] = 1
		}
	}
	at(3, s)
	for i, o := 2, m.prev[s]; i >= 0 && o != none; i, o = i-1, m.prev[o] {
		at(i, o)
	}
	for i, o := 4, m.next[s]; i < 7 && o != none; i, o = i+1, m.next[o] {
		at(i, o)
	}
	return w
}

// colours packs the colours of window places a…b.
func (w *window) colours(a, b int) int {
	v := 0
	for i := a; i <= b; i++ {
		v = v<<1 | w.c[i]
	}
	return v
}

func sign(d int) int {
	switch {
	case d == 0:
		return 0
	case d < 32:
		return 1
	case d == 32:
		return 2
	}
	return 3
}

// bucket sorts a range in semitones into eight steps.
func bucket(l hand.Length) int {
	for i, edge := range [...]hand.Length{1, 3000, 5500, 8500, 11000, 14500, 16450} {
		if l < edge {
			return i
		}
	}
	return 7
}

// turn counts the strokes that go on in one direction, up to seven, and gives the direction.
func (m *music) turn(s int32, step []int32) (n, direction int) {
	for o := step[s]; o != none && n < 7; o = step[o] {
		d := 2
		if m.key(o) > m.key(s) {
			d = 1
		} else if m.key(o) == m.key(s) {
			d = 3
		}
		if direction != 0 && d != direction {
			break
		}
		direction = d
		n++
		s = o
	}
	return n, direction
}

func (m *Model) noteContexts(e, i int, out []Context) []Context {
	ev := &m.m.line.Events[e]
	k := ev.Keys[i]
	s := int32(k.Strike)
	w := m.m.window(s)
	pc := hand.Class(int(k.Key))
	h := int(m.m.line.Hand)
	a, b := m.m.ranges(s, m.m.next)
	c, d := m.m.ranges(s, m.m.prev)
	n1, d1 := m.m.turn(s, m.m.next)
	n2, d2 := m.m.turn(s, m.m.prev)
	joinedNext := 1
	if e+1 < len(m.m.line.Events) && !m.m.line.Events[e+1].Joined {
		joinedNext = 0
	}
	joined := 0
	if ev.Joined {
		joined = 1
	}
	out = append(out,
		context(noteClass, pc, h),
		context(noteNeighbours, w.d[2], w.d[4], w.colours(2, 4)),
		context(noteAhead2, w.d[2], w.d[4], w.d[5], w.colours(2, 5)),
		context(noteBehind2, w.d[1], w.d[2], w.d[4], w.colours(1, 4)),
		context(noteWindow2, w.d[1], w.d[2], w.d[4], w.d[5], w.colours(1, 5)),
		context(noteClassNeighbours, pc, w.d[2], w.d[4]),
		context(noteAhead3, w.d[4], w.d[5], w.d[6], w.colours(3, 6)),
		context(noteBehind3, w.d[0], w.d[1], w.d[2], w.colours(0, 3)),
		context(noteRange, bucket(a), bucket(b), bucket(c), bucket(d)),
		context(noteTurn, n1, d1, n2, d2, w.c[3]),
		context(noteClassWindow2, pc, w.d[1], w.d[2], w.d[4], w.d[5]),
		context(noteWindow3, w.d[0], w.d[1], w.d[2], w.d[4], w.d[5], w.d[6], w.colours(1, 5)),
		context(noteRests, joined, joinedNext, sign(w.d[2]), sign(w.d[4]), w.c[3]),
		context(noteColours, w.colours(1, 5), sign(w.d[1]), sign(w.d[2]), sign(w.d[4]), sign(w.d[5])),
	)
	if len(ev.Keys) > 1 {
		above, below := 0, 0
		if i+1 < len(ev.Keys) {
			above = min(int(ev.Keys[i+1].Key-k.Key), 20)
		}
		if i > 0 {
			below = min(int(k.Key-ev.Keys[i-1].Key), 20)
		}
		out = append(out,
			context(noteInChord, i, len(ev.Keys)-1-i, above, below, w.c[3]),
			context(noteChordLine, i, len(ev.Keys)-1-i, w.d[2], w.d[4]))
	}
	return out
}

func (m *Model) linkContexts(e, i, j int, out []Context) []Context {
	a, b := m.m.line.Events[e-1].Keys[i], m.m.line.Events[e].Keys[j]
	if !a.Struck {
		return out
	}
	w := m.m.window(int32(b.Strike))
	d := 32 + min(max(int(b.Key)-int(a.Key), -19), 19)
	colours := 0
	if hand.Black(int(a.Key)) {
		colours = 1
	}
	before := 0
	if p := m.m.prev[a.Strike]; p != none {
		before = 32 + min(max(m.m.key(p)-int(a.Key), -19), 19)
	}
	return append(out,
		context(linkStep, d, colours*2+w.c[3]),
		context(linkWindow, before, d, w.d[4], colours*2+w.c[3]),
		context(linkClass, hand.Class(int(b.Key)), d))
}

func (m *Model) rowContexts(e, i, j, k int, single bool, out []Context) []Context {
	a, b, c := m.m.line.Events[e-2].Keys[i], m.m.line.Events[e-1].Keys[j], m.m.line.Events[e].Keys[k]
	w, v := m.m.window(int32(c.Strike)), m.m.window(int32(a.Strike))
	d1 := 32 + min(max(int(b.Key)-int(a.Key), -19), 19)
	d2 := 32 + min(max(int(c.Key)-int(b.Key), -19), 19)
	colours := v.c[3] * 4
	if hand.Black(int(b.Key)) {
		colours += 2
	}
	colours += w.c[3]
	s := 0
	if single {
		s = 1
	}
	return append(out,
		context(rowSteps, d1, d2, s),
		context(rowColours, d1, d2, colours, s),
		context(rowClass, hand.Class(int(b.Key)), d1, d2),
		context(rowAhead, d1, d2, w.d[4], colours),
		context(rowBehind, v.d[2], d1, d2, colours))
}

func (m *Model) shapeContexts(e int, out []Context) []Context {
	keys := m.m.line.Events[e].Keys
	var d [4]int
	colours, held := 0, 0
	for i, k := range keys {
		if i > 0 {
			d[i-1] = min(int(k.Key-keys[i-1].Key), 30) + 1
		}
		colours <<= 1
		if hand.Black(int(k.Key)) {
			colours |= 1
		}
		held <<= 1
		if !k.Struck {
			held |= 1
		}
	}
	top := keys[m.m.high[e]]
	w := m.m.window(int32(top.Strike))
	return append(out,
		context(shapeKeys, d[0], d[1], d[2], d[3], held),
		context(shapeColours, d[0], d[1], d[2], d[3], held, colours),
		context(shapeClass, d[0], d[1], d[2], d[3], held, hand.Class(int(keys[0].Key))),
		context(shapeLine, d[0], d[1], d[2], d[3], held, w.d[2], w.d[4]))
}

// doubleContexts names two double notes in a row, nothing held.
func (m *Model) doubleContexts(e int, out []Context) []Context {
	a, b := m.m.line.Events[e-1].Keys, m.m.line.Events[e].Keys
	if len(a) != 2 || len(b) != 2 || m.m.struck[e-1] != 2 || m.m.struck[e] != 2 {
		return out
	}
	colours := 0
	for _, k := range [4]int8{a[0].Key, a[1].Key, b[0].Key, b[1].Key} {
		colours <<= 1
		if hand.Black(int(k)) {
			colours |= 1
		}
	}
	x, y := min(int(a[1].Key-a[0].Key), 30), min(int(b[1].Key-b[0].Key), 30)
	s := 32 + min(max(int(b[0].Key)-int(a[0].Key), -19), 19)
	return append(out, context(doubleKeys, x, y, s), context(doubleColours, x, y, s, colours))
}

var ranks = func() (r [1 << fingering.Fingers]int8) {
	var n [fingering.Fingers + 1]int8
	// Increasing fingers in lexical order, as the lattice lists them.
	var rise func(set, size, from int)
	for size := 1; size <= fingering.Fingers; size++ {
		rise = func(set, left, from int) {
			if left == 0 {
				r[set] = n[size]
				n[size]++
				return
			}
			for f := from; f < fingering.Fingers; f++ {
				rise(set|1<<f, left-1, f+1)
			}
		}
		rise(0, size, 0)
	}
	return r
}()

// Rank numbers the grips whose fingers lie in order, among those of as many keys; -1 for any other grip.
func Rank(g fingering.Grip, keys int) int {
	set, last := 0, fingering.Finger(0)
	for _, f := range g.Fingers[:keys] {
		if f <= last {
			return -1
		}
		set |= 1 << (f - 1)
		last = f
	}
	return int(ranks[set])
}
