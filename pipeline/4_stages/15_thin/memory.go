package thin

import "slices"

// memory is what the reader keeps: how a turn (these keys, with these fingers, and then those keys) was fingered where
// it came last. It learns only what is certain: up to an event all of whose digits are known nothing that comes later
// can change the reading. So what is remembered at an event is what came up to the last such event.
type memory struct {
	measures int  // how far back it goes
	whole    bool // it holds the turns of the whole line already, and learns nothing more
	turns    map[uint64][]turned
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
	for e := max(from, 1); e <= to; e++ {
		if !line[e].apart {
			t := turn(&line[e-1], fingers(e-1), &line[e])
			m.turns[t] = append(m.turns[t], turned{e, fingers(e)})
		}
	}
}

// moveUnease is the unease of a move, unless it is remembered.
func (m *memory) moveUnease(before *event, was []int, e *event, now []int, remembered []int) int {
	switch {
	case remembered == nil:
		return moveUnease(before, was, e, now)
	case slices.Equal(remembered, now):
		return 0
	}
	return moveUnease(before, was, e, now) + unlike
}

// recall gives the fingers of a turn seen before, up to the event that everything is certain to; nil for none.
func (m *memory) recall(line []event, before *event, was []int, e *event, certain int) []int {
	if m == nil || e.apart {
		return nil
	}
	seen := m.turns[turn(before, was, e)]
	for i := len(seen) - 1; i >= 0; i-- {
		if t := &seen[i]; t.event <= certain {
			if e.measure-line[t.event].measure > m.measures {
				return nil
			}
			return t.fingers
		}
	}
	return nil
}

// How many measures back readers remember: who practises a piece for study reads it by the measure, who performs it
// knows the passage, and who takes the fewest digits knows the piece.
var remembered = map[string]int{"study": 2, "performance": 8, "sparse": 1 << 30}

// wholeMemory gives the memory of the style with all turns of a line as they are fingered: asked for what was certain up
// to an event, it answers as a reader would who has come so far.
func wholeMemory(digits string, line []event) *memory {
	m := memoryFor(digits)
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
