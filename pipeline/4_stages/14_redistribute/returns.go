package redistribute

import (
	"maps"
	"slices"

	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

// returns gives passages that return the same redistribution, where it is allowed there and ends the same trouble
// or gains at all.
func (f *finder) returns(all []fingering.Redistribution) []fingering.Redistribution {
	for k := 0; k < len(all); k++ { // grows while it runs
		for _, r := range f.in.Returns {
			if r.Kind == parallel.Mirrored {
				continue
			}
			for _, way := range [2][2][]int{{r.First, r.Later}, {r.Later, r.First}} {
				if there, ok := f.mapped(all[k], way[0], way[1]); ok &&
					!slices.ContainsFunc(all, func(o fingering.Redistribution) bool {
						return slices.ContainsFunc(o.Notes, func(n int) bool { return slices.Contains(there, n) })
					}) {
					if o, ok := f.again(all[k], there); ok {
						all = append(all, o)
					}
				}
			}
		}
	}
	return all
}

// mapped gives the notes of a redistribution where its passage stands again.
func (f *finder) mapped(r fingering.Redistribution, from, to []int) ([]int, bool) {
	var out []int
	for _, n := range r.Notes {
		k := slices.Index(from, n)
		if k < 0 {
			return nil, false
		}
		out = append(out, to[k])
	}
	return out, true
}

// again weighs a redistribution at another place.
func (f *finder) again(r fingering.Redistribution, there []int) (fingering.Redistribution, bool) {
	return f.againAt(r, there, false)
}

// againAt weighs it there; alike says that both hands have the same keys there: then what else is wrong around is no reason
// against it, and what is for the music's sake counts too.
func (f *finder) againAt(r fingering.Redistribution, there []int, alike bool) (fingering.Redistribution, bool) {
	moved := map[int]bool{}
	t := trouble{hand: 0, reason: r.Reason, from: len(f.moments)}
	if r.To == handOf[0] {
		t.hand = 1
	}
	for _, n := range there {
		m, ok := f.where.of(n), f.where.has(n)
		if !ok || f.side.of(n) != t.hand {
			return r, false
		}
		moved[n] = true
		t.from, t.to = min(t.from, m), max(t.to, m)
	}
	if !slices.Contains(troubled, r.Reason) { // a chance is looked for where it returns, too
		return f.chanceAt(t, moved, alike)
	}
	t.alike = alike
	if !f.allowed(t, moved) {
		return r, false
	}
	from, to := max(t.from-2, 0), min(t.to+2, len(f.moments)-1)
	was := f.finger(from, to, nil)
	o, ok := f.weigh(t, &was, from, to, moved)
	return o, ok && o.Gain > 0
}

// chanceAt weighs a chance that was looked at and not offered, since it gains too little where it stands, at a place that is
// like one where it is offered.
func (f *finder) chanceAt(t trouble, moved map[int]bool, alike bool) (r fingering.Redistribution, ok bool) {
	k := slices.IndexFunc(f.looked, func(c chance) bool { return c.reason == t.reason && c.hand == t.hand && maps.Equal(c.moved, moved) })
	if k < 0 || !alike {
		return r, false
	}
	c := &f.looked[k]
	if !f.mayMove(moved) || f.speaksAgainst(c) {
		return r, false
	}
	o, ok := f.weighChance(c)
	return o, ok && o.Gain > 0
}
