package thin

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
)

// reader expects the hand to stay where it is: a key a step higher gets the
// next finger, the same key the same finger, a chord the fingers that lie over
// its keys. After a rest of more than longRest quarters it knows nothing.
type reader struct {
	last   *event
	memory map[string][]int // how a turn was fingered before; nil for a reader without memory
	known  map[int]int      // finger of each key in the position of the hand
}

var longRest = score.Whole(4)

func newReader(digits string) *reader {
	r := &reader{known: map[int]int{}}
	if digits == "sparse" {
		r.memory = map[string][]int{}
	}
	return r
}

// guess gives the fingers the reader expects, nil where it has no idea.
func (r *reader) guess(e event) []int {
	if r.last == nil || longRest.Less(e.at.Sub(r.last.end)) {
		return nil
	}
	if fingers, seen := r.memory[turn(r.last, e)]; seen {
		return fingers
	}
	out := make([]int, len(e.keys))
	for k, key := range e.keys {
		out[k] = r.finger(key)
		if out[k] < 1 || out[k] > 5 || k > 0 && out[k] <= out[k-1] {
			return nil
		}
	}
	return out
}

// finger lays the hand's last position over a key: by the nearest key of the
// last event, one finger a step.
func (r *reader) finger(key int) int {
	if f, same := r.known[key]; same {
		return f
	}
	best := 0
	for k := range r.last.keys {
		if distance(r.last.keys[k], key) < distance(r.last.keys[best], key) {
			best = k
		}
	}
	from := r.last.keys[best]
	steps := step(key) - step(from)
	if steps == 0 { // a black key and its white neighbour of the same step
		steps = 1
		if key < from {
			steps = -1
		}
	}
	return r.last.fingers[best] + steps
}

func distance(a, b int) int { return max(a-b, b-a) }

// step counts white keys from below; a black key counts with the one below it.
func step(key int) int {
	octave := key / 12
	if key < 0 {
		octave = (key - 11) / 12
	}
	return octave*7 + [...]int{0, 0, 1, 1, 2, 3, 3, 4, 4, 5, 5, 6}[key-12*octave]
}

// learn takes in how an event was fingered. The position lasts as long as the
// fingers stay in it: a finger on a new key ends it.
func (r *reader) learn(e event) {
	if r.memory != nil && r.last != nil {
		r.memory[turn(r.last, e)] = slices.Clone(e.fingers)
	}
	for k, key := range e.keys {
		for known, f := range r.known {
			if f == e.fingers[k] && known != key || (f < e.fingers[k]) != (known < key) && known != key {
				clear(r.known)
				break
			}
		}
		r.known[key] = e.fingers[k]
	}
	r.last = &e
}

// turn names a place by the keys and fingers before and the keys now.
func turn(before *event, e event) string {
	return fmt.Sprint(before.keys, before.fingers, e.keys)
}
