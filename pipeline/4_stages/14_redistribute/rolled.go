package redistribute

import (
	"slices"

	"fingerproof/rules/fingering"
)

// rolledTops lists chords rolled through both hands of which the outermost part of hand h stands on a stem of its
// own: the other hand, done with its own keys, crosses over to it (common practice).
func (f *finder) rolledTops(h int) (out []chance) {
	s := f.in.Score
	for m := range f.moments {
		mine, others := f.moments[m].struck[h], f.moments[m].struck[1-h]
		if len(mine) < rolledFewest || len(others) == 0 {
			continue
		}
		rolled := true
		for _, k := range mine {
			id := f.line[h][k].ID
			rolled = rolled && id < len(s.Notes) && s.Notes[id].Grace == 0
		}
		if !rolled || !f.isRolled(h, m) || !f.isRolled(1-h, m) {
			continue
		}
		outer := f.line[h][mine[len(mine)-1]]
		if h == 1 {
			outer = f.line[h][mine[0]]
		}
		low, high, _ := f.outer(h, m)
		if high-low <= rolledBeyond {
			continue
		}
		p := phrase{voice: f.written(outer.ID), from: m, to: m}
		rest := 0
		for _, k := range mine {
			if n := &f.line[h][k]; f.written(n.ID) == p.voice {
				p.ids = append(p.ids, n.ID)
			} else {
				rest++
			}
		}
		above, below := f.apartFromHand(h, p)
		if rest < 2 || len(p.ids) > 2 || h == 0 && !above || h == 1 && !below {
			continue
		}
		c := f.chanceOf(h, Crossing, p)
		c.rolled = true
		out = append(out, c)
	}
	return out
}

// isRolled says that a hand rolls what it strikes at m.
func (f *finder) isRolled(h, m int) bool {
	for _, k := range f.moments[m].struck[h] {
		if id := f.line[h][k].ID; id < len(f.in.Score.Notes) && f.in.Playing.Rolled(id) {
			return true
		}
	}
	return false
}

// weighRolled weighs the top of a rolled chord: the hand that crosses has struck its own keys by then, and takes
// these anew.
func (f *finder) weighRolled(c *chance) (r fingering.Redistribution, ok bool) {
	from, to := max(c.from-2, 0), min(c.to+2, len(f.moments)-1)
	was := f.finger(from, to, nil)
	now := f.fingerWithout(from, to, c.moved)
	o := 1 - c.hand
	if now.out[c.hand] > was.out[c.hand] || now.pedal[c.hand] > was.pedal[c.hand] ||
		now.drops[c.hand] > was.drops[c.hand] {
		return r, false
	}
	var top []fingering.Note
	for id := range c.moved {
		if f.where.of(id) == c.from {
			top = append(top, *f.noteOf(id))
		}
	}
	slices.SortFunc(top, func(a, b fingering.Note) int { return a.ID - b.ID })
	if len(top) == 1 { // a hand that crosses over lands on a long finger
		top[0].Allowed = fingering.Only(2) | fingering.Only(3)
	}
	alone := f.fingerAlone(o, top)
	r = f.redistribution(c.trouble, c.moved, &was, &now, from, to)
	for _, n := range alone.Notes {
		if n.OutOfReach != "" {
			return r, false
		}
		r.Notes, r.Fingers = append(r.Notes, n.ID), append(r.Fingers, n.Finger)
	}
	sortTogether(r.Notes, r.Fingers)
	costs := f.costsOf(c.trouble, c.moved)
	r.Gain = was.effort[c.hand] + was.lost - now.effort[c.hand] - now.lost + theRoll - overTheOther - costs
	r.Why = f.why(c.trouble, &was, &now, c.moved, costs, r.Gain)
	return r, len(r.Notes) > 0
}
