package redistribute

import (
	"slices"

	"fingerproof/rules/fingering"
)

// cutsLine says that a voice would change hands within a line: right before or after what is moved the same hand
// goes on in it, by less than a sixth and as single notes or as chords like these. A sweep is meant to be cut, and
// a lower voice may be taken for as long as the hand is free.
func (f *finder) cutsLine(c *chance) bool {
	ids := f.inOrder(c.moved)
	struck := f.momentsOf(c.moved)
	if len(struck) == 0 {
		return false
	}
	first, last := struck[0], struck[len(struck)-1] // a key tied on is not struck again
	if c.reason == Evenness || c.reason == Turns ||
		c.reason == Clarity && last-first >= longEnough && !f.slurredInto(c.hand, first, f.written(ids[0])) {
		return false
	}
	voice := f.written(ids[0])
	stroke := func(m int) (top, keys int) {
		for _, k := range f.moments[m].struck[c.hand] {
			if n := &f.line[c.hand][k]; f.written(n.ID) == voice && !f.isGrace(n.ID) {
				top, keys = max(top, n.Key), keys+1
			}
		}
		return top, keys
	}
	goesOn := func(from, to int) bool { // from one moment to another
		a, b := from, to
		if c.from <= from && from <= c.to {
			a, b = to, from
		}
		outside, keys := stroke(a)
		inside, mine := stroke(b)
		if keys == 0 || mine == 0 || (keys > 1) != (mine > 1) || outside-inside >= wideLeap ||
			inside-outside >= wideLeap {
			return false
		}
		end := f.moments[from].at
		for _, k := range f.moments[from].struck[c.hand] {
			if n := &f.line[c.hand][k]; f.written(n.ID) == voice {
				if e := f.heldTo(n.ID); end.Compare(e) < 0 {
					end = e
				}
			}
		}
		return end.Compare(f.moments[to].at) >= 0
	}
	for m := first - 1; m >= 0 && first-m <= lookBack; m-- {
		if _, keys := stroke(m); keys > 0 {
			if goesOn(m, first) {
				return true
			}
			break
		}
	}
	for m := last + 1; m < len(f.moments) && m-last <= lookBack; m++ {
		if _, keys := stroke(m); keys > 0 {
			return goesOn(last, m)
		}
	}
	return false
}

// slurredInto says that a slur joins a voice's single key at a moment to the single key before it.
func (f *finder) slurredInto(h, m int, voice string) bool {
	for k := m - 1; k >= 0 && m-k <= lookBack && f.inVoice(h, m, voice) == 1; k-- {
		if f.inVoice(h, k, voice) == 0 {
			continue
		}
		return f.inVoice(h, k, voice) == 1 && slices.ContainsFunc(f.moments[k].struck[h], func(i int) bool {
			return f.written(f.line[h][i].ID) == voice && f.line[h][i].Slurred
		})
	}
	return false
}

// longEnough is after how many moments a lower voice may be given back in its midst.
const longEnough = 3

// wideLeap parts a line: from a major sixth on it is heard as another voice, in semitones.
const wideLeap = 9

// lessThan says that notes of the same moments are offered for a trouble already, and that this is the simpler way
// out of it: only a voice that begins there is as good where a grip is out of reach or a line is broken, and a hand crosses
// over only where it gains much more.
func (f *finder) lessThan(troubles []fingering.Redistribution, c *chance, r fingering.Redistribution) bool {
	return slices.ContainsFunc(troubles, func(o fingering.Redistribution) bool {
		asGood := o.Reason == Reach && 5*r.Gain >= 4*o.Gain || o.Reason == Line && r.Gain >= o.Gain
		if c.begins && asGood || r.Gain >= crossingMore*o.Gain {
			return false
		}
		return slices.ContainsFunc(o.Notes, func(n int) bool {
			m, ok := f.where.of(n), f.where.has(n)
			if !ok {
				return false
			}
			end := f.noteOf(n).End
			return m <= c.to && (m >= c.from || end.Compare(f.moments[c.from].at) > 0)
		})
	})
}

// wide says that somewhere in a chance its hand has to span more than an octave, or to strike five keys, for both
// voices.
func (f *finder) wide(c *chance) bool {
	for m := c.from; m <= c.to; m++ {
		low, high, keys := 128, -1, 0
		near := f.between(c.hand, m, m)
		for k := range near {
			n := &near[k]
			if f.where.of(n.ID) <= m && n.End.Compare(f.moments[m].at) > 0 {
				low, high, keys = min(low, n.Key), max(high, n.Key), keys+1
			}
		}
		if high-low > octave || c.reason == Crossing && c.begins && high-low == octave || keys >= 5 {
			return true
		}
	}
	return false
}

const octave = 12
