package thin

import "slices"

// memory is what the reader of sparse editions keeps: how a turn (these keys,
// with these fingers, and then those keys) was fingered where it came last. It
// learns only what is certain: up to an event all of whose digits are known
// nothing that comes later can change the reading.
type memory map[uint64][]int

// unlike is what it costs the reader to finger a known turn otherwise.
const unlike = 3

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
func (m memory) learn(line []event, from, to int, fingers func(e int) []int) {
	if m == nil {
		return
	}
	for e := max(from, 1); e <= to; e++ {
		if !line[e].apart {
			m[turn(&line[e-1], fingers(e-1), &line[e])] = fingers(e)
		}
	}
}

// moveUnease is the unease of a move, unless it is remembered.
func (m memory) moveUnease(before *event, was []int, e *event, now []int, remembered []int) int {
	switch {
	case remembered == nil:
		return moveUnease(before, was, e, now)
	case slices.Equal(remembered, now):
		return 0
	}
	return moveUnease(before, was, e, now) + unlike
}

// recall gives the fingers of a turn seen before, nil for none.
func (m memory) recall(before *event, was []int, e *event) []int {
	if m == nil || e.apart {
		return nil
	}
	return m[turn(before, was, e)]
}

// memoryFor gives the memory that a reader begins with, nil for one that keeps none.
func memoryFor(digits string) memory {
	if digits == "sparse" {
		return memory{}
	}
	return nil
}
