package thin

import (
	"slices"

	"fingerproof/rules/places"
)

// memory is what the reader keeps: how a turn (these keys, with these fingers, and then those keys) was fingered where
// it came last. It learns only what is certain: up to an event all of whose digits are known nothing that comes later
// can change the reading. So what is remembered at an event is what came up to the last such event.
type memory struct {
	usual    *Usual // what it takes for usual; nil: what the spans say
	measures int    // how far back it goes
	whole    bool   // it holds the turns of the whole line already, and learns nothing more
	turns    map[uint64][]turned
	read     [][]int // by event: the fingers, once they are certain
	figures  []int   // by event: the one that it repeats in a figure or a sequence, −1 for none
	like     []int   // by event: the one that it repeats of the last time that the same keys came so, −1 for none
}

// turned is a turn as it was taken.
type turned struct {
	event   int
	fingers []int
}

// unlike is what it costs the reader to finger a known turn otherwise.
const unlike = 12

// unlikeFigure is what it costs the reader to finger a figure otherwise than the last time.
const unlikeFigure = 4

// untold is what it costs the reader to take other fingers than the preface tells: it would not think of it.
const untold = 60

// turn names a turn by a sum over keys and fingers (FNV-1a, 64 bits).
func turn(before *event, was []int, e *event) uint64 {
	sum := uint64(14695981039346656037)
	add := func(n int) { sum = (sum ^ uint64(n&0xff)) * 1099511628211 }
	for k, key := range before.keys {
		add(key)
		add(was[k])
	}
	add(255)
	for _, key := range e.keys {
		add(key)
	}
	return sum
}

// learn takes in the turns from one event to another, as they are read.
func (m *memory) learn(line []event, from, to int, fingers func(e int) []int) {
	if m == nil || m.whole {
		return
	}
	if m.read == nil {
		m.read = make([][]int, len(line))
	}
	for e := from; e <= to; e++ {
		m.read[e] = fingers(e)
		if e > 0 && !line[e].apart {
			t := turn(&line[e-1], fingers(e-1), &line[e])
			m.turns[t] = append(m.turns[t], turned{e, fingers(e)})
		}
	}
}

// recalled is how a turn was taken, or else the figure that goes on, and what it costs to take it otherwise.
type recalled struct {
	fingers []int // nil for none
	unlike  int
}

func (m *memory) recalledOf(turned, again, told []int) recalled {
	if told != nil && (again == nil || slices.Equal(again, told)) {
		return recalled{told, unit * untold}
	}
	if again != nil {
		return recalled{again, unit*unlikeFigure + m.table().otherwise(otherFigure)}
	}
	return recalled{turned, unit*unlike + m.table().otherwise(otherTurn)}
}

// unease of a move to these fingers, as much as it is by itself unless they are those recalled.
func (r *recalled) unease(now []int, itself int) int {
	switch {
	case r.fingers == nil:
		return itself
	case slices.Equal(r.fingers, now):
		return level
	}
	return max(itself+r.unlike, 0)
}

// recall gives the fingers of a turn seen before, up to the event that everything is certain to; nil for none.
func (m *memory) recall(line []event, before *event, was []int, e *event, certain int) []int {
	if at := m.recallAt(line, before, was, e, certain); at >= 0 {
		return m.read[at]
	}
	return nil
}

// recallAt gives the event where a turn came last, up to the one that everything is certain to; −1 for none.
func (m *memory) recallAt(line []event, before *event, was []int, e *event, certain int) int {
	if m == nil || e.apart {
		return -1
	}
	seen := m.turns[turn(before, was, e)]
	for i := len(seen) - 1; i >= 0; i-- {
		if t := &seen[i]; t.event <= certain {
			if e.measure-line[t.event].measure > m.reach(before, e) {
				break
			}
			return t.event
		}
	}
	return -1
}

// reach is how many measures back a turn is remembered: to keys that are struck again it is no turn, unless it goes on so.
func (m *memory) reach(before, e *event) int {
	if slices.Equal(before.keys, e.keys) {
		return min(m.measures, 1)
	}
	return m.measures
}

// again gives the fingers of what an event repeats by the music alone, in a figure or a sequence; nil for none that is
// certain, and for keys that are struck again, which are taken as they were.
func (m *memory) again(line []event, e, certain int) []int {
	if m == nil || m.figures == nil || e > 0 && slices.Equal(line[e].keys, line[e-1].keys) {
		return nil
	}
	at := m.figures[e]
	for at > certain {
		at = m.figures[at]
	}
	if at < 0 {
		return nil
	}
	return m.read[at]
}

// told gives the fingers of the last time that the same keys came in the same order and time, as the preface says; nil where
// they came never, or where the fingers have departed from them already.
func (m *memory) told(line []event, e, certain int, was []int) []int {
	if m == nil || len(m.like) == 0 {
		return nil
	}
	if again := m.key(line, e, certain, was); again != nil {
		return again
	}
	at := m.like[e]
	for at > certain {
		at = m.like[at]
	}
	if at < 0 || e > 0 && at > 0 && slices.Equal(line[e-1].keys, line[at-1].keys) && !slices.Equal(was, m.read[at-1]) {
		return nil
	}
	return m.read[at]
}

// key gives the finger of a single key that comes again within the measure, where all that lies between is certain but the
// event before, and the hand does not move; nil for none.
func (m *memory) key(line []event, e, certain int, was []int) []int {
	now := &line[e]
	if len(now.keys) > 1 || certain < e-2 {
		return nil
	}
	for at := e - 1; at >= 0 && line[at].measure == now.measure && len(line[at].keys) == 1; at-- {
		if line[at].keys[0] == now.keys[0] {
			if at > certain || at == e-1 {
				return nil
			}
			fingers, last := m.read[at], m.read[at]
			for j := at + 1; j < e; j++ {
				next := was
				if j < e-1 {
					next = m.read[j]
				}
				if places.Moved(line[j-1].keys[0], last[0], line[j].keys[0], next[0]) {
					return nil
				}
				last = next
			}
			return fingers
		}
	}
	return nil
}

// How many measures back readers remember: who practises a piece for study reads it by the measure, who performs it
// knows the passage, and who takes the fewest digits knows the piece.
var remembered = map[string]int{"study": 2, "performance": 8, "sparse": 1 << 30}

// wholeMemory gives the memory of the style with all turns of a line as they are fingered: asked for what was certain up
// to an event, it answers as a reader would who has come so far.
func wholeMemory(in Fingered, line []event, events []places.Event) *memory {
	m := memoryOf(in, events)
	if m != nil {
		m.learn(line, 0, len(line)-1, func(e int) []int { return line[e].fingers })
		m.whole = true
	}
	return m
}

// memoryFor gives the memory that a reader begins with, nil for one that keeps none.
func memoryFor(digits string) *memory {
	if measures, some := remembered[digits]; some {
		return &memory{measures: measures, turns: map[uint64][]turned{}}
	}
	return nil
}

// memoryOf gives the memory that a reader begins a line with: it sees in the music what comes again at once.
func memoryOf(in Fingered, events []places.Event) *memory {
	m := memoryFor(in.Style.Digits)
	if m != nil {
		m.figures, m.like = places.Sequences(events), places.Again(events)
		m.usual = in.usual()
	}
	return m
}

// table is what the reader takes for usual.
func (m *memory) table() *Usual {
	if m == nil {
		return nil
	}
	return m.usual
}
