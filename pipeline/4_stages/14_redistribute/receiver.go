package redistribute

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// What the hand that takes notes must not get by it (common practice; readers who judged offers as pianists named
// these).

// ninth is the widest span that a hand is given by an offer, in semitones: a tenth that the other hand has to roll is
// no better off here.
const ninth = 14

// overloads says that notes would be no gain for the hand that takes them: with what it strikes, and does not roll, or
// holds they make a span of a tenth or more; or it has to leave one before more than half of its length is over, since
// it strikes keys farther off than a ninth, and no pedal holds it. What the left hand holds may be left to the pedal, and
// a single key of the right hand.
func (f *finder) overloads(t trouble, moved map[int]bool) bool {
	o := 1 - t.hand
	for _, id := range f.inOrder(moved) {
		n := f.noteOf(id)
		if n.Tied {
			continue
		}
		at := f.where.of(id)
		low, high := n.Key, n.Key
		for _, k := range f.moments[at].struck[t.hand] {
			if s := &f.line[t.hand][k]; moved[s.ID] {
				low, high = min(low, s.Key), max(high, s.Key)
			}
		}
		near := f.between(o, at, at)
		for k := range near {
			s := &near[k]
			struck := f.where.of(s.ID) == at && !f.isGrace(s.ID) && !f.isRolled(o, at)
			held := f.where.of(s.ID) < at && s.End.Compare(f.moments[at].at) > 0 &&
				(!f.pedal[at] || o == 0 && f.holds(o, at) > 1)
			if struck || held {
				low, high = min(low, s.Key), max(high, s.Key)
			}
		}
		if high-low > ninth {
			return true
		}
		end := f.heldTo(id)
		for m := at + 1; m < len(f.moments) && f.moments[m].at.Compare(end) < 0 && !f.pedal[at]; m++ {
			l, h, strikes := f.outer(o, m)
			if strikes && max(h, n.Key)-min(l, n.Key) > ninth && !later(f.moments[at].at, f.moments[m].at, end) {
				return true
			}
		}
	}
	return false
}

// itsOwnFigure is how many strokes make a figure.
const itsOwnFigure = 3

// plunges says that a hand would have to leap by more than an octave to what it takes of a grip, or crosses over to, or
// from there, within half a quarter: the other hand rolls it, lets go or leaps with less ado.
func (f *finder) plunges(t trouble, moved map[int]bool) bool {
	if t.reason != Reach && t.reason != Held && t.reason != Crossing {
		return false
	}
	o := 1 - t.hand
	for _, m := range f.momentsOf(moved) {
		if len(f.moments[m].struck[o]) > 0 {
			continue // it is there
		}
		low, high := 128, -1
		for _, k := range f.moments[m].struck[t.hand] {
			if n := &f.line[t.hand][k]; moved[n.ID] {
				low, high = min(low, n.Key), max(high, n.Key)
			}
		}
		for _, step := range [2]int{-1, 1} {
			n := f.nextStroke(o, m, step)
			if n < 0 || atOnce.Less(f.quarters(min(m, n), max(m, n))) {
				continue
			}
			if l, h, _ := f.outer(o, n); max(l-high, low-h) > octave {
				return true
			}
		}
	}
	return false
}

// twoLines says that a hand that has a line of its own would get a moving line of the other hand's besides, where each
// had one: of three strokes and more, on three keys and more.
func (f *finder) twoLines(t trouble, moved map[int]bool) bool {
	if t.reason != Held && t.reason != Line {
		return false
	}
	at := f.momentsOf(moved)
	keys := map[int]bool{}
	for _, id := range f.inOrder(moved) {
		keys[f.noteOf(id).Key] = true
	}
	return len(at) >= itsOwnFigure && len(keys) >= itsOwnFigure &&
		f.strokes(1-t.hand, at[0], at[len(at)-1]) >= itsOwnFigure
}

// holds counts the keys that a hand holds into a moment.
func (f *finder) holds(h, m int) (n int) {
	near := f.between(h, m, m)
	for k := range near {
		if s := &near[k]; f.where.of(s.ID) < m && s.End.Compare(f.moments[m].at) > 0 {
			n++
		}
	}
	return n
}

// later says that m lies behind the middle between from and to.
func later(from, m, to fingering.Moment) bool {
	return fraction(m).Sub(fraction(from)).Cmp(fraction(to).Sub(fraction(m))) > 0
}

// noFreer says that the hand that is to hold a key has a figure of its own to play meanwhile: it strikes three times or
// more, and more than half as often as the hand that gives the key away.
func (f *finder) noFreer(t trouble, moved map[int]bool) bool {
	if t.reason != Held {
		return false
	}
	var mine, others int
	for _, id := range f.inOrder(moved) {
		end := f.heldTo(id)
		for m := f.where.of(id) + 1; m < len(f.moments) && f.moments[m].at.Compare(end) < 0; m++ {
			mine += min(len(f.moments[m].struck[t.hand]), 1)
			others += min(len(f.moments[m].struck[1-t.hand]), 1)
		}
	}
	return others >= itsOwnFigure && 2*others > mine
}

// atOnce is how soon a key is struck again at most, in quarters.
var atOnce = score.Frac(1, 2)

// struckAgain says that the hand that takes a key has it to strike again in its very next stroke, at
// once: the key is in the way of its figure, whoever strikes it.
func (f *finder) struckAgain(h int, moved map[int]bool) bool {
	o := 1 - h
	for _, id := range f.inOrder(moved) {
		at := f.where.of(id)
		for m := at + 1; m < len(f.moments); m++ {
			if len(f.moments[m].struck[o]) == 0 {
				continue
			}
			key := f.noteOf(id).Key
			if f.quarters(at, m).Less(atOnce) && slices.ContainsFunc(f.moments[m].struck[o], func(k int) bool {
				return f.line[o][k].Key == key
			}) {
				return true
			}
			break
		}
	}
	return false
}

// wholeTurn says that the hands play by turns as written, and that one would lose its whole turn: the other strikes right
// before and right after it, and nothing meanwhile.
func (f *finder) wholeTurn(h int, moved map[int]bool) bool {
	moments := f.momentsOf(moved)
	if len(moments) == 0 {
		return false
	}
	from, to := moments[0], moments[len(moments)-1]
	for m := from; m <= to; m++ {
		if len(f.moments[m].struck[1-h]) > 0 || len(f.moments[m].struck[h]) > 0 && !f.takesAll(h, m, moved) {
			return false
		}
	}
	return f.turnsAt(h, from, -1) && f.turnsAt(h, to, 1)
}

// takesAll says that all that a hand strikes at a moment is moved.
func (f *finder) takesAll(h, m int, moved map[int]bool) bool {
	return !slices.ContainsFunc(f.moments[m].struck[h], func(k int) bool { return !moved[f.line[h][k].ID] })
}

// turnsAt says that right after (step 1) a stroke of hand h the other hand strikes alone, or right before (step -1) at
// all, no more than half a quarter away.
func (f *finder) turnsAt(h, m, step int) bool {
	n := m + step
	for ; n >= 0 && n < len(f.moments) && len(f.moments[n].struck[0])+len(f.moments[n].struck[1]) == 0; n += step {
	}
	return n >= 0 && n < len(f.moments) && len(f.moments[n].struck[1-h]) > 0 &&
		(step < 0 || len(f.moments[n].struck[h]) == 0) && !atOnce.Less(f.quarters(min(m, n), max(m, n)))
}

// uncrossedServes says that a hand need not cross over, since it is as free to take what lies below: all that the other
// hand strikes in the meantime, or struck within a quarter before and holds, is struck while this hand strikes nothing
// else and holds nothing, and belongs to no quick figure.
func (f *finder) uncrossedServes(c *chance) bool {
	if c.reason != Crossing || c.rolled {
		return false
	}
	below := map[int]bool{} // moments
	near := f.between(c.hand, c.from, c.to)
	for k := range near {
		n := &near[k]
		m := f.where.of(n.ID)
		if c.moved[n.ID] || m > c.to || m < c.from && n.End.Compare(f.moments[c.from].at) <= 0 {
			continue
		}
		if n.Tied || quarter.Less(f.quarters(m, c.from)) || f.isGrace(n.ID) {
			return false
		}
		below[m] = true
		for _, step := range [2]int{-1, 1} {
			o := f.joined(c.hand, n, step)
			if o != nil && !c.moved[o.ID] && f.quarters(min(m, f.where.of(o.ID)), max(m, f.where.of(o.ID))).Less(quarter) {
				return false
			}
		}
		if !f.idle(1-c.hand, m, n.Key) {
			return false
		}
	}
	return len(below) > 0
}

// idle says that a hand strikes nothing at a moment but the key named, and holds nothing.
func (f *finder) idle(h, m, key int) bool {
	near := f.between(h, m, m)
	for k := range near {
		n := &near[k]
		if f.where.of(n.ID) == m && n.Key != key || f.where.of(n.ID) < m && n.End.Compare(f.moments[m].at) > 0 {
			return false
		}
	}
	return true
}

// outOfRow says that a single stroke would be taken out of a row of like ones: as many keys each, in one rhythm and
// without a rest, three at least on either side.
func (f *finder) outOfRow(c *chance) bool {
	if c.reason != Turns || c.from != c.to {
		return false
	}
	for _, step := range [2]int{-1, 1} {
		m := c.from
		for range likeStrokes {
			n := f.nextStroke(c.hand, m, step)
			if n < 0 || len(f.moments[n].struck[c.hand]) != len(f.moments[c.from].struck[c.hand]) ||
				!f.soundsInto(c.hand, min(m, n), max(m, n)) ||
				!f.quarters(min(m, n), max(m, n)).Equal(f.quarters(c.from, f.nextStroke(c.hand, c.from, 1))) {
				return false
			}
			m = n
		}
	}
	return true
}

// likeStrokes is how many strokes on either side make a row.
const likeStrokes = 3

// withinReach says that what a hand would cross over to begins less than a sixth above the other keys of its hand: they
// are one grip to it.
func (f *finder) withinReach(c *chance) bool {
	if c.reason != Crossing || c.rolled {
		return false
	}
	low, high := 128, -1
	near := f.between(c.hand, c.from, c.from)
	for k := range near {
		n := &near[k]
		switch {
		case f.where.of(n.ID) > c.from || n.End.Compare(f.moments[c.from].at) <= 0:
		case c.moved[n.ID]:
			low = min(low, n.Key)
		default:
			high = max(high, n.Key)
		}
	}
	return high >= 0 && low-high < wideLeap
}
