// Package lattice is the search kernel: it lays out every grip of every event of one hand and finds, exactly and in
// integers, the cheapest way through, what every other finger would cost, and how likely each is. It knows the hard
// limits of the hand; everything else it asks of a cost model.
package lattice

import (
	"slices"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Distances within which the legal oddities of a grip are possible (from memory, the engine's own working figures).
const (
	thumbUnderWithin = 8000 // thumb and the key it is passed under or over
	fingerOverWithin = 5000 // 3 over 4, 4 over 5
	thumbPairWithin  = 2900 // two keys under one thumb
)

// gripsOf lists the grips of an event in a fixed order: the fingers laid on in order first, then the oddities. Grips
// that do not agree with the allowed fingers are left out; where none would remain, held keys are set free, and where
// that does not help the given digits overrule the order of the hand and the grips are marked Contradictory. Freed
// says that setting held keys free was enough.
func gripsOf(e *fingering.Event) (grips []fingering.Grip, freed bool) {
	all := legalGrips(e.Keys)
	if out := agreeing(all, e.Keys, always); len(out) > 0 {
		return out, false
	}
	if out := agreeing(all, e.Keys, struck); len(out) > 0 {
		return out, true
	}
	var out []fingering.Grip
	for _, g := range all {
		for i, k := range e.Keys {
			if k.Struck && !k.Allowed.Has(g.Fingers[i]) {
				g.Fingers[i] = nearestAllowed(k.Allowed, g.Fingers[i])
			}
		}
		g.Odd |= fingering.Contradictory
		if !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	return out, false
}

// agreeing keeps the grips that agree with the fingers allowed on the keys that bind.
func agreeing(grips []fingering.Grip, keys []fingering.Sounding, binds func(fingering.Sounding) bool) []fingering.Grip {
	if !slices.ContainsFunc(keys, func(k fingering.Sounding) bool { return binds(k) && k.Allowed != fingering.AnyFinger }) {
		return grips
	}
	var out []fingering.Grip
	for _, g := range grips {
		ok := true
		for i, k := range keys {
			ok = ok && (!binds(k) || k.Allowed.Has(g.Fingers[i]))
		}
		if ok {
			out = append(out, g)
		}
	}
	return out
}

func always(fingering.Sounding) bool   { return true }
func struck(k fingering.Sounding) bool { return k.Struck }

func nearestAllowed(m fingering.Mask, f fingering.Finger) fingering.Finger {
	for d := fingering.Finger(0); d < fingering.Fingers; d++ {
		if f > d && m.Has(f-d) {
			return f - d
		}
		if m.Has(f + d) {
			return f + d
		}
	}
	return f
}

// mostLegal is more than most events have.
const mostLegal = 16

func legalGrips(keys []fingering.Sounding) []fingering.Grip {
	out := make([]fingering.Grip, 0, mostLegal)
	add := func(odd fingering.Oddity, prefix []fingering.Finger, from fingering.Finger) {
		var g fingering.Grip
		g.Odd = odd
		copy(g.Fingers[:], prefix)
		var rise func(i int, f fingering.Finger)
		rise = func(i int, f fingering.Finger) {
			if i == len(keys) {
				out = append(out, g)
				return
			}
			for ; f <= fingering.Fingers; f++ {
				g.Fingers[i] = f
				rise(i+1, f+1)
			}
		}
		rise(len(prefix), from)
	}
	add(0, nil, 1)
	if len(keys) < 2 {
		return out
	}
	low, next := int(keys[0].Key), int(keys[1].Key)
	if hand.Black(low) == hand.Black(next) && hand.Distance(low, next) <= thumbPairWithin {
		add(fingering.ThumbOnTwo, []fingering.Finger{1, 1}, 2)
	}
	// The thumb above a finger: one of the two is held while the other moves.
	if len(keys) <= 3 && keys[0].Struck != keys[1].Struck && hand.Distance(low, next) <= thumbUnderWithin {
		for f := fingering.Finger(2); f <= 4; f++ {
			add(fingering.ThumbUnder, []fingering.Finger{f, 1}, f+1)
		}
	}
	if len(keys) == 2 && keys[0].Struck != keys[1].Struck && hand.Distance(low, next) <= fingerOverWithin {
		add(fingering.FingerOver, []fingering.Finger{4, 3}, 0)
		add(fingering.FingerOver, []fingering.Finger{5, 4}, 0)
	}
	return out
}

// Excess is by how much a grip goes beyond the hard limits of the hand, all pairs summed, in hundredths of a
// millimetre, and how many pairs do.
func Excess(p hand.Profile, keys []fingering.Sounding, g fingering.Grip) (pairs int, excess hand.Length) {
	for i := range keys {
		for j := i + 1; j < len(keys); j++ {
			if x := pairExcess(p, keys[i], keys[j], g.Fingers[i], g.Fingers[j]); x > 0 {
				pairs++
				excess += x
			}
		}
	}
	return pairs, excess
}

// BeyondReach counts the pairs of a grip that lie too far apart, however the fingers are ordered: fingers that cross are
// awkward or impossible, and within reach all the same. One finger on two keys lies nowhere near both.
func BeyondReach(p hand.Profile, keys []fingering.Sounding, g fingering.Grip) (pairs int) {
	for i := range keys {
		for j := i + 1; j < len(keys); j++ {
			a, b := g.Fingers[i], g.Fingers[j]
			if a > b {
				a, b = b, a
			}
			if pairExcess(p, keys[i], keys[j], a, b) > 0 {
				pairs++
			}
		}
	}
	return pairs
}

func pairExcess(p hand.Profile, low, high fingering.Sounding, a, b fingering.Finger) hand.Length {
	d := hand.Distance(int(low.Key), int(high.Key))
	switch {
	case a == b: // one finger on two keys: only neighbours of one colour under the thumb are no excess
		if a == 1 && hand.Black(int(low.Key)) == hand.Black(int(high.Key)) && d <= thumbPairWithin {
			return 0
		}
		return max(d, 1)
	case a > b && b == 1:
		return max(d-thumbUnderWithin, 0)
	case a > b:
		return max(d-fingerOverWithin, 0)
	}
	return p.Excess(int(a), int(b), d)
}
