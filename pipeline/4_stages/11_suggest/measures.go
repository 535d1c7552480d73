package suggest

import (
	"slices"

	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

// What a measure that a hand plays again may be less likely with the fingering of its other times than with its own, in 1/16 of
// a bit, all its strokes together, where the policy asks for as much as it does by default. Print keeps to one fingering where
// what stands before and after is the same, too (0.89 to 1.00 of the digits, by fold and length); a measure of a few strokes
// with other music beside it is fingered by that music as often as not (0.52 to 0.64 in one fold). Chosen on folds 0 and 1
// ('workbench like-measures --fold').
const (
	measureGives      = 120
	measureAlikeGives = 1600 // the same strokes beside it
	likeOfMeasures    = 67   // of that on other keys of the same shape, in percent
)

// What another finger then costs at each stroke, in milli-nats: inside the measure, and at its first and last stroke beside
// other music.
const (
	measureWorth = 6000
	seamWorth    = 3000
)

// measures gives the measures that a hand plays again one fingering, as refrains does with figures. Notes that get one are
// bound.
func (m *memory) measures(
	all []parallel.Again, percent int, bound byNote[fingering.Finger], apart func(id int) bool,
) (out []parallel.Return) {
	for i := range all {
		a := again{&all[i], m, bound, percent}
		times := a.times(apart)
		for len(times) > 1 {
			var follow []parallel.Return
			if follow, times = a.oneFingering(times); len(follow) == 0 {
				break
			}
			out = append(out, follow...)
		}
	}
	return out
}

// again is a measure that a hand plays again.
type again struct {
	*parallel.Again
	m       *memory
	bound   byNote[fingering.Finger]
	percent int
}

// way is the fingering that one time has.
type way struct {
	from    int
	fingers []fingering.Finger
}

// times are those of the measure, but for times with a note that is to be fingered for itself.
func (a *again) times(apart func(id int) bool) (out []int) {
	for t, ids := range a.Times {
		if !slices.ContainsFunc(ids, func(id int) bool { return a.m.at.at(id) == nil || apart(id) }) {
			out = append(out, t)
		}
	}
	return out
}

// ways are the fingerings that times have.
func (a *again) ways(times []int) (out []way) {
	for _, t := range times {
		w := way{t, make([]fingering.Finger, len(a.Times[t]))}
		for i, id := range a.Times[t] {
			w.fingers[i] = a.m.finger.at(id)
		}
		if len(out) < mostWays && !slices.Contains(w.fingers, 0) &&
			!slices.ContainsFunc(out, func(o way) bool { return slices.Equal(o.fingers, w.fingers) }) {
			out = append(out, w)
		}
	}
	return out
}

// alike says that the same strokes stand beside two times.
func (a *again) alike(t, u int) bool { return a.Entered[t] == a.Entered[u] && a.Left[t] == a.Left[u] }

// limit is what the fingering of one time may be less likely at another.
func (a *again) limit(t, from int) int64 {
	out := int64(measureGives)
	if a.alike(t, from) {
		out = measureAlikeGives
	}
	if a.Like {
		out = out * likeOfMeasures / 100
	}
	return out * int64(a.percent) / 100
}

// worth is what another finger costs at note i of a time that takes the fingering of another one.
func (a *again) worth(t, from, i int) int {
	first, last := i < a.First, i >= len(a.Times[t])-a.Last
	if first && a.Entered[t] != a.Entered[from] || last && a.Left[t] != a.Left[from] {
		return seamWorth
	}
	return measureWorth
}

// oneFingering finds the best of the fingerings that times have, gives it to those for which it is likely enough, and gives the
// others back.
func (a *again) oneFingering(times []int) (follow []parallel.Return, left []int) {
	var best way
	least := int64(1 << 62)
	for _, w := range a.ways(times) {
		sum := int64(0)
		for _, t := range times {
			sum += min(a.m.lessLikely(a.Times[t], w.fingers, a.bound), 2*a.limit(t, w.from))
		}
		if sum < least {
			best, least = w, sum
		}
	}
	if best.fingers == nil {
		return nil, nil
	}
	var with []int
	for _, t := range times {
		if a.m.lessLikely(a.Times[t], best.fingers, a.bound) > a.limit(t, best.from) {
			left = append(left, t)
		} else {
			with = append(with, t)
		}
	}
	if len(with) < 2 {
		return nil, nil
	}
	for _, t := range with[1:] {
		follow = append(follow, parallel.Return{Kind: parallel.Figure, First: a.Times[with[0]], Later: a.Times[t]})
	}
	for _, t := range with {
		for i, id := range a.Times[t] {
			f := best.fingers[i]
			a.bound.of[id], a.m.finger.of[id] = f, f
			if n := a.m.at.at(id); !given(n) {
				n.Remembered, n.Worth = f, max(n.Worth, a.worth(t, best.from, i))
			}
		}
	}
	return follow, left
}
