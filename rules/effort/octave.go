package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// octaveInside prices an octave, one key after the other, that is not taken by the thumb and the fourth or fifth finger though
// its fingers lie in order, in milli-nats: the hand stretches between inner fingers, or moves for nothing, where it has the two
// keys under it (common practice, no source). The table holds next to nothing against it where the keys are let go, since it
// learned from few octaves (readers of our editions: "3 1 is a fingering no editor prints").
const octaveInside = 4500

// octaveByFourth prices the fourth finger on the outer key of such an octave where it is white and no slur joins the two: the
// fifth has it (readers of our editions; print has 5 at 249 of 259 octaves taken by the thumb and an outer finger).
const octaveByFourth = 2000

// octaveSoon is how many quarters lie from key to key at most where an octave is one movement of the hand.
const octaveSoon = 2

// octaveAt says that events e−1 and e strike single keys an octave apart, one soon after the other, and hold no other.
func (m *Model) octaveAt(e int) bool {
	if !m.pricer.aims.On {
		return false
	}
	from, to := &m.line.Events[e-1], &m.line.Events[e]
	if len(from.Keys) != 1 || len(to.Keys) != 1 {
		return false
	}
	if d := to.Keys[0].Key - from.Keys[0].Key; d != 12 && d != -12 {
		return false
	}
	latest := fingering.Moment{Num: from.Onset.Num + octaveSoon*from.Onset.Den, Den: from.Onset.Den}
	return to.Onset.Compare(latest) <= 0
}

// brokenOctavePrice is what two fingers cost on the keys of an octave, in milli-nats.
func (m *Model) brokenOctavePrice(e int, f, g fingering.Finger) int64 {
	up := m.line.Events[e-1].Keys[0].Key < m.line.Events[e].Keys[0].Key
	if f == g || up != (f < g) {
		return 0
	}
	price := int64(octaveInside)
	if min(f, g) == 1 && max(f, g) >= 4 {
		first, outer := m.line.Events[e-1].Keys[0], m.line.Events[e].Keys[0]
		if !up {
			outer = first
		}
		price = 0
		if max(f, g) == 4 && !hand.Black(int(outer.Key)) && !m.line.Strikes[first.Strike].Slurred {
			price = octaveByFourth
		}
	}
	return price * int64(m.pricer.aims.Comfort) / 100
}

// addOctaves adds what the fingers of an octave cost, as Pair lays it out.
func (m *Model) addOctaves(e int, out []int32) {
	if !m.octaveAt(e) {
		return
	}
	before, here := m.grips.Grips(e-1), m.grips.Grips(e)
	for a := range before {
		for b := range here {
			out[a*len(here)+b] += fixed(m.brokenOctavePrice(e, before[a].Fingers[0], here[b].Fingers[0]) * 1000)
		}
	}
}
