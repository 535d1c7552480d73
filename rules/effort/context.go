package effort

import (
	"fmt"
	"strconv"
	"strings"
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
	for at := 0; ; at++ {
		v, end, ok := shortNumber(rest, at)
		if !ok || v < 0 || v > 63 || end < len(rest) && rest[end] != ',' {
			part, _, _ := strings.Cut(rest[at:], ",")
			return 0, fmt.Errorf("reading context %q: %q is no number from 0 to 63", s, part)
		}
		if n < len(values) {
			values[n] = int(v)
		}
		n++
		if at = end; at == len(rest) {
			break
		}
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
