package thin

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/effort"
)

// reader expects the hand to lie at ease: of all ways to put fingers on the
// keys it takes the one whose spans, to each other and to where the hand lay
// just before, are most relaxed. A key that still lies under a finger keeps
// it. After a rest of more than longRest it knows nothing.
//
// It is a deliberately plain player: no look ahead, no thumb passed under
// before it must. What it gets wrong is what an editor prints.
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
	if len(e.keys) > 5 || r.last == nil || longRest.Less(e.at.Sub(r.last.end)) {
		return nil
	}
	if fingers, seen := r.memory[turn(r.last, e)]; seen {
		return fingers
	}
	var best []int
	least := 0
	eachGrip(len(e.keys), func(fingers []int) {
		if unease := r.unease(e.keys, fingers); best == nil || unease < least {
			best, least = slices.Clone(fingers), unease
		}
	})
	return best
}

// eachGrip calls f with every rising choice of k fingers, in lexical order.
func eachGrip(k int, f func([]int)) {
	fingers := make([]int, k)
	var choose func(at, from int)
	choose = func(at, from int) {
		if at == k {
			f(fingers)
			return
		}
		for finger := from; finger <= 5-(k-1-at); finger++ {
			fingers[at] = finger
			choose(at+1, finger+1)
		}
	}
	choose(0, 1)
}

// unease sums how far a grip is from a relaxed hand, in itself and after the
// last one. Weights: the spans of a chord count four times those of a move.
func (r *reader) unease(keys, fingers []int) int {
	sum := 0
	for i := range keys {
		for j := range i {
			sum += 4 * strain(fingers[j], fingers[i], keys[i]-keys[j])
		}
		if f, lies := r.known[keys[i]]; lies && f != fingers[i] {
			sum += 24
		}
		move := 0
		for k, key := range r.last.keys {
			move += strain(r.last.fingers[k], fingers[i], keys[i]-key)
		}
		sum += 4 * move / len(r.last.keys)
	}
	return sum
}

// strain is how far finger b on a key that lies distance semitones above
// finger a is from lying at ease.
func strain(a, b, distance int) int {
	if a == b {
		if distance == 0 {
			return 0
		}
		return 8 + max(distance, -distance)/2
	}
	if distance == 0 {
		return 6
	}
	if a > b {
		a, b, distance = b, a, -distance
	}
	low, high := effort.RelaxedSpan(a, b) // the published span table of the ergonomic model
	switch {
	case distance < 0 && a != 1:
		return 20 - distance
	case distance < 0:
		return 5 - distance
	case distance < low:
		return 2 * (low - distance)
	case distance > high:
		return 2 * (distance - high)
	}
	return 0
}

// learn takes in how an event was fingered. The position lasts as long as the
// fingers stay in it: a finger on a new key, or out of order with one known,
// ends it.
func (r *reader) learn(e event) {
	if r.memory != nil && r.last != nil {
		r.memory[turn(r.last, e)] = slices.Clone(e.fingers)
	}
	for k, key := range e.keys {
		for known, f := range r.known {
			if known != key && (f == e.fingers[k] || (f < e.fingers[k]) != (known < key)) {
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
