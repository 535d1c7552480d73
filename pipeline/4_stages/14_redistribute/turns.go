package redistribute

import "slices"

// figure is a few strokes of a hand between two leaps of more than an octave.
type figure struct {
	at        []int // moments
	low, high int
	quick     bool // the leap to it leaves no time
}

// How soon a leap to a figure has to be made, in microseconds from stroke to stroke, and how many strokes a figure has
// at most. Broken octaves are no leaps: the hand spans them.
const (
	leapsWithin   = 600_000
	longestFigure = 6
)

// turns lists figures that a hand leaps to and from while the other strikes and holds nothing: below for the right
// hand, above for the left, or, for the right hand, on the way up, where the left hand crosses over. Where the hand
// leaps to and fro, all figures of the other side are one chance: hands by turns (common practice).
func (f *finder) turns(h int) (out []chance) {
	all := f.figures(h)
	for k := 1; k+1 < len(all); k++ {
		var p phrase
		leaps := 0
		first := k
		for ; k+1 < len(all) && f.takesTurn(h, all, k); k += 2 {
			if leaps > 0 && len(all[k-1].at) > longestFigure {
				break // no turns any more, but a place of its own
			}
			leaps += 2
			if p.ids == nil {
				p.from = all[k].at[0]
			}
			p.to = all[k].at[len(all[k].at)-1]
			for _, m := range all[k].at {
				for _, i := range f.moments[m].struck[h] {
					p.ids = append(p.ids, f.line[h][i].ID)
				}
			}
		}
		if k > first {
			k -= 2 // the last figure that was taken; the next one may be the first of others
		}
		if leaps > 0 && p.to-p.from < longestVoice {
			c := f.chanceOf(h, Turns, p)
			c.leaps = leaps
			out = append(out, c)
		}
	}
	return out
}

// figures cuts a hand's strokes where it leaps.
func (f *finder) figures(h int) (out []figure) {
	last := -1
	for m := range f.moments {
		struck := f.moments[m].struck[h]
		if len(struck) == 0 {
			continue
		}
		low, high, _ := f.outer(h, m)
		leaps := last < 0
		if k := len(out) - 1; k >= 0 {
			lastLow, lastHigh, _ := f.outer(h, last)
			leaps = (low > lastHigh || lastLow > high) && min(abs(low-lastLow), abs(high-lastHigh)) > octave
		}
		if leaps {
			quick := last >= 0 && f.moments[m].micros-f.moments[last].micros <= leapsWithin && f.soundsInto(h, last, m)
			out = append(out, figure{low: low, high: high, quick: quick})
		}
		g := &out[len(out)-1]
		g.at, g.low, g.high = append(g.at, m), min(g.low, low), max(g.high, high)
		last = m
	}
	return out
}

// takesTurn says that the free hand may take a figure: it is short, both leaps are quick, and it lies on that hand's
// side of both neighbours, or on the way up.
func (f *finder) takesTurn(h int, all []figure, k int) bool {
	before, g, after := &all[k-1], &all[k], &all[k+1]
	if len(g.at) > longestFigure || !g.quick || !after.quick {
		return false
	}
	from, to := before.at[len(before.at)-1], after.at[0]
	lowBefore, highBefore, _ := f.outer(h, from)
	lowAfter, highAfter, _ := f.outer(h, to)
	below := g.high < lowBefore && g.high < lowAfter
	above := g.low > highBefore && g.low > highAfter
	up := g.low > highBefore && g.high < lowAfter
	if h == 0 && !below && !up || h == 1 && !above {
		return false
	}
	near := f.between(1-h, from, to-1)
	for i := range near {
		n := &near[i]
		if f.where.of(n.ID) > from && f.where.of(n.ID) < to || n.End.Compare(f.moments[g.at[0]].at) > 0 {
			return false
		}
	}
	for _, m := range g.at {
		for _, i := range f.moments[m].struck[h] {
			if id := f.line[h][i].ID; id >= len(f.in.Score.Notes) || f.isGrace(id) {
				return false
			}
		}
	}
	return true
}

func abs(x int) int { return max(x, -x) }

// soundsInto says that nothing rests between two strokes of a hand.
func (f *finder) soundsInto(h, from, to int) bool {
	return slices.ContainsFunc(f.moments[from].struck[h], func(k int) bool {
		return f.line[h][k].End.Compare(f.moments[to].at) >= 0
	})
}
