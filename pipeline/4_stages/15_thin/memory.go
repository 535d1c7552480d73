package thin

import "slices"

// memory is what the reader keeps: how a turn (these keys, with these fingers, and then those keys) was fingered where it
// came last.
type memory struct {
	usual    *Usual // what it takes for usual; nil: what the spans say
	measures int    // how far back it goes
	whole    bool   // it holds the turns of the whole line already, and learns nothing more
	turns    map[uint64][]turned
	read     [][]int // by event: the fingers, once they are read
}

// turned is a turn as it was taken.
type turned struct {
	event   int
	fingers []int
}

// unlike is what it costs the reader to finger a known turn otherwise.
const unlike = 12

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

// recalled is how a turn was taken, and what it costs to take it otherwise.
type recalled struct {
	fingers []int // nil for none
	unlike  int
}

func (m *memory) recalledOf(turned []int) recalled {
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

// recall gives the fingers of a turn seen before, up to an event; nil for none.
func (m *memory) recall(line []event, before *event, was []int, e *event, upTo int) []int {
	if at := m.recallAt(line, before, was, e, upTo); at >= 0 {
		return m.read[at]
	}
	return nil
}

// recallAt gives the event where a turn came last, up to another one; −1 for none.
func (m *memory) recallAt(line []event, before *event, was []int, e *event, upTo int) int {
	if m == nil || e.apart {
		return -1
	}
	seen := m.turns[turn(before, was, e)]
	for i := len(seen) - 1; i >= 0; i-- {
		if t := &seen[i]; t.event <= upTo {
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

// How many measures back readers remember: who practises a piece for study reads it by the measure, who performs it
// knows the passage, and who takes the fewest digits knows the piece.
var remembered = map[string]int{"study": 2, "performance": 8, "sparse": 1 << 30}

// wholeMemory gives the memory of the style with all turns of a line as they are fingered: asked for what came up to an event,
// it answers as a reader would who has come so far.
func wholeMemory(in Fingered, line []event) *memory {
	m := memoryFor(in)
	if m != nil {
		m.learn(line, 0, len(line)-1, func(e int) []int { return line[e].fingers })
		m.whole = true
	}
	return m
}

// memoryFor gives the memory that a reader begins with, nil for one that keeps none.
func memoryFor(in Fingered) *memory {
	if measures, some := remembered[in.Style.Digits]; some {
		return &memory{measures: measures, turns: map[uint64][]turned{}, usual: in.usual()}
	}
	return nil
}

// table is what the reader takes for usual.
func (m *memory) table() *Usual {
	if m == nil {
		return nil
	}
	return m.usual
}
