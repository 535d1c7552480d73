package places

import (
	"slices"

	"fingerproof/rules/hand"
)

// With gives the fingers of an event that digits and the preface tell together, 0 where neither does: a digit that departs from a
// figure, from a key struck on or from the position says that none of that holds here; of keys at once each is read for itself.
func (p *Preface) With(e int, digits []int) []int {
	said, by := p.Tells(e)
	out := slices.Clone(digits)
	for k, f := range said {
		switch {
		case digits[k] == 0:
			out[k] = f
		case f != 0 && digits[k] != f && by != Grip && by != Returns:
			return slices.Clone(digits)
		}
	}
	return out
}

// Untold lists the places of an event's keys whose finger a player can find neither in its digits nor in the preface, nor because
// one finger alone is left between the others. Of octaves on black keys the preface leaves 4 and 5 to the player.
func (p *Preface) Untold(e int, shows func(note int) bool) (at []int) {
	told := p.With(e, p.digits(e, shows))
	keys := p.events[e].Keys
	for from := 0; from < len(told); from++ {
		if told[from] != 0 {
			continue
		}
		to, distinct := from, 0
		for ; to < len(told) && told[to] == 0; to++ {
			if to == from || keys[to] != keys[to-1] {
				distinct++
			}
		}
		below, above := 0, fingers+1
		if from > 0 {
			below = told[from-1]
		}
		if to < len(told) {
			above = told[to]
		}
		for k := from; k < to && above-below-1 != distinct; k++ {
			at = append(at, k)
		}
		from = to
	}
	if len(at) == 1 && len(keys) == 2 && leavesFour(keys) && told[0] == 1 {
		return nil
	}
	return at
}

// fingers is how many a hand has.
const fingers = 5

// digits gives the digits that show at an event, 0 where none does; one at a key that two voices strike is that of both.
func (p *Preface) digits(e int, shows func(note int) bool) []int {
	ev := &p.events[e]
	out := make([]int, len(ev.Keys))
	for k, i := range ev.Notes {
		if !shows(i) {
			continue
		}
		for j, key := range ev.Keys {
			if key == ev.Keys[k] {
				out[j] = ev.Fingers[k]
			}
		}
	}
	return out
}

// leavesFour says that keys struck together, from the thumb, have an octave of black ones on the outside, which the preface takes by
// 4 as well as by 5.
func leavesFour(keys []int) bool {
	last := len(keys) - 1
	return keys[last]-keys[0] == octave && hand.Black(keys[last]) // mirroring about D keeps black keys black
}

const octave = 12
