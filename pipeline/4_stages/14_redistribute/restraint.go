package redistribute

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// What pianists would not do, though neither hand is worse off by it. Each is a rule of the trade (common practice);
// readers who judged offers as pianists named these as what spoke against them.

// inTheWay says that of hands that meet only what meets would change over: each key, at its moment, is one that the
// other hand strikes too; or, where the hands share none, one that lies within the other hand's grip. A key that both
// strike stays with the hand that holds it longer. A hand that rolls its chord takes nothing on.
func (f *finder) inTheWay(h int, moved map[int]bool) bool {
	o := 1 - h
	for id := range moved {
		n := f.noteOf(id)
		if n.Tied {
			continue
		}
		m := f.where.of(id)
		low, high, strikes := f.outer(o, m)
		if !strikes || f.isRolled(o, m) {
			return false
		}
		shared := false
		for _, k := range f.moments[m].struck[h] {
			shared = shared || f.meets(h, m, f.line[h][k].Key)
		}
		if !shared {
			if n.Key < low || n.Key > high {
				return false
			}
			continue
		}
		k := slices.IndexFunc(f.moments[m].struck[o], func(k int) bool { return f.line[o][k].Key == n.Key })
		if k < 0 || f.heldTo(f.line[o][f.moments[m].struck[o][k]].ID).Compare(f.heldTo(id)) < 0 {
			return false
		}
	}
	return true
}

// heldTo is when a key that goes down with a note is let go as written, ties counted.
func (f *finder) heldTo(id int) (end fingering.Moment) {
	for _, t := range f.tied(id) {
		if f.where.has(t) {
			if e := f.noteOf(t).End; end.Compare(e) < 0 {
				end = e
			}
		}
	}
	return end
}

// thereAndBack says that a hand would cross over for a single stroke and be back within a beat: it strikes its own
// keys right before and right after.
func (f *finder) thereAndBack(c *chance) bool {
	if c.reason != Crossing || c.rolled || c.from != c.to {
		return false
	}
	o := 1 - c.hand
	before, after := c.from-1, c.to+1
	for before >= 0 && len(f.moments[before].struck[o]) == 0 {
		before--
	}
	for after < len(f.moments) && len(f.moments[after].struck[o]) == 0 {
		after++
	}
	return before >= 0 && after < len(f.moments) && !score.Frac(1, 1).Less(f.quarters(before, after))
}

// quarters is the time from one moment to another.
func (f *finder) quarters(from, to int) score.Fraction {
	a, b := f.moments[from].at, f.moments[to].at
	return score.Frac(b.Num, max(b.Den, 1)).Sub(score.Frac(a.Num, max(a.Den, 1)))
}

// noSweep says that taking the end of a sweep helps nobody: the hand that gives it away goes on right after, by an
// octave at most, so that it has not come to its end; or its voice goes on in the other hand, so that the text says where
// hands change; or the other rests all around, and the passage is meant for one hand.
func (f *finder) noSweep(c *chance) bool {
	if c.reason != Evenness {
		return false
	}
	if f.goesOnInVoice(c) {
		return true
	}
	if next := c.to + 1; next < len(f.moments) && len(f.moments[next].struck[c.hand]) > 0 {
		low, high, _ := f.outer(c.hand, c.to)
		lowNext, highNext, _ := f.outer(c.hand, next)
		if f.soundsInto(c.hand, c.to, next) && max(lowNext-high, low-highNext) <= octave {
			return true
		}
	}
	return f.restsAround(1-c.hand, c.from, c.to)
}

// goesOnInVoice says that the next stroke after a chance is the other hand's, in the same written voice.
func (f *finder) goesOnInVoice(c *chance) bool {
	ids := f.inOrder(c.moved)
	voice := f.written(ids[len(ids)-1])
	next := c.to + 1
	return next < len(f.moments) && voice != "" && slices.ContainsFunc(f.moments[next].struck[1-c.hand], func(k int) bool {
		return f.written(f.line[1-c.hand][k].ID) == voice
	})
}

// restsAround says that a hand strikes nothing in the measure of a window, nor in those beside it.
func (f *finder) restsAround(h, from, to int) bool {
	first, last := f.measureAt(from)-1, f.measureAt(to)+1
	for m := from; m >= 0 && f.measureAt(m) >= first; m-- {
		if len(f.moments[m].struck[h]) > 0 {
			return false
		}
	}
	for m := from; m < len(f.moments) && f.measureAt(m) <= last; m++ {
		if len(f.moments[m].struck[h]) > 0 {
			return false
		}
	}
	return true
}

// measureAt is the measure of what is struck at a moment.
func (f *finder) measureAt(m int) int {
	for h := range 2 {
		for _, k := range f.moments[m].struck[h] {
			if id := f.line[h][k].ID; id < len(f.in.Score.Notes) {
				return f.in.Score.Notes[id].Measure
			}
		}
	}
	if m > 0 {
		return f.measureAt(m - 1)
	}
	return 0
}

// staysBeside says that the same figure stands in the measure before or after, in the same voice and rhythm and with
// the same rise and fall, and stays in its hand there, which has as much to do as here; where it is taken too, before or
// after, it does not. A player does the same thing in the same way.
func (f *finder) staysBeside(c *chance, taken map[int]bool) bool {
	if c.reason == Turns || c.rolled {
		return false
	}
	stays := false
	voice := f.written(f.inOrder(c.moved)[0])
	for _, step := range [2]int{-1, 1} {
		there := f.figureBeside(c, step)
		switch {
		case there == nil:
		case f.others(c.hand, c.from, voice) && !f.others(c.hand, f.where.of(there[0]), voice):
		case slices.ContainsFunc(there, func(id int) bool { return taken[id] }):
			return false
		default:
			stays = true
		}
	}
	return stays
}

// figureBeside lists the highest keys of the strokes of a chance's figure as it stands a measure later (step 1) or
// before (step -1) in the same hand; nil where it does not, or is a single stroke.
func (f *finder) figureBeside(c *chance, step int) (out []int) {
	s := f.in.Score
	var mine []int // the highest key of each stroke
	for _, id := range f.inOrder(c.moved) {
		n := f.noteOf(id)
		switch k := len(mine) - 1; {
		case n.Tied:
		case k >= 0 && f.where.of(mine[k]) == f.where.of(id):
			if n.Key > f.noteOf(mine[k]).Key {
				mine[k] = id
			}
		default:
			mine = append(mine, id)
		}
	}
	if len(mine) < 2 {
		return nil
	}
	for i, id := range mine {
		n := &s.Notes[id]
		top := -1
		for m := f.where.of(id); m >= 0 && m < len(f.moments) && top < 0; m += step {
			at := f.measureAt(m)
			if (at-n.Measure)*step > 1 {
				break
			}
			for _, k := range f.moments[m].struck[c.hand] {
				o := &f.line[c.hand][k]
				if o.ID < len(s.Notes) && s.Notes[o.ID].Measure == n.Measure+step && s.Notes[o.ID].Grace == 0 &&
					s.Notes[o.ID].Onset.Equal(n.Onset) && s.Notes[o.ID].Voice == n.Voice &&
					(top < 0 || o.Key > f.noteOf(top).Key) {
					top = o.ID
				}
			}
		}
		if top < 0 {
			return nil
		}
		out = append(out, top)
		if i > 0 && sign(f.noteOf(top).Key-f.noteOf(out[i-1]).Key) != sign(f.noteOf(id).Key-f.noteOf(mine[i-1]).Key) {
			return nil
		}
	}
	return out
}

func sign(x int) int { return max(-1, min(x, 1)) }
