package compare

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// moves pairs digits that went missing with equal ones that came near by: at a
// note of the same moment or the next one before or after it, in either hand;
// and on one staff with notes between, where no digit that stayed stands between.
func (c *comparison) moves(gone, come []loose) {
	if len(gone) == 0 || len(come) == 0 {
		return
	}
	moments := c.momentsOfB()
	old, new := make([]spotOfDigit, len(gone)), make([]spotOfDigit, len(come))
	for i := range gone {
		old[i] = c.spotOf(gone[i].note, true, moments)
	}
	byRank := map[int][]int{}
	for j := range come {
		new[j] = c.spotOf(come[j].note, false, moments)
		byRank[new[j].rank] = append(byRank[new[j].rank], j)
	}
	kept := map[int]map[int]bool{} // by staff, the moments with a digit that stayed
	for _, b := range c.keptDigits {
		s := c.spotOf(b, false, moments)
		if kept[s.staff] == nil {
			kept[s.staff] = map[int]bool{}
		}
		kept[s.staff][s.rank] = true
	}
	type candidate struct{ g, n, far int }
	var all []candidate
	for i := range gone {
		p := &old[i]
		for r := p.rank - mostBetween; r <= p.rank+mostBetween; r++ {
			for _, j := range byRank[r] {
				q := &new[j]
				apart := max(r-p.rank, p.rank-r)
				if come[j].text != gone[i].text || q.note == p.note ||
					apart > 1 && (q.staff != p.staff || !near(p.at.At, q.at.At) || between(kept[p.staff], p.rank, r)) {
					continue
				}
				far := 1 + 2*apart
				if q.staff != p.staff {
					far += 4
				}
				d := p.midi - q.midi
				all = append(all, candidate{i, j, far*128 + min(max(d, -d), 127)})
			}
		}
	}
	slices.SortStableFunc(all, func(p, q candidate) int {
		return cmp.Or(cmp.Compare(p.far, q.far), cmp.Compare(p.g, q.g), cmp.Compare(p.n, q.n))
	})
	for _, k := range all {
		g, n := &gone[k.g], &come[k.n]
		if g.used || n.used {
			continue
		}
		g.used, n.used = true, true
		c.at(DigitMoved, g.note, n.note, g.text+" at "+c.a.noteWords(g.note), n.text+" at "+c.b.noteWords(n.note))
	}
}

// mostBetween is how many moments on a digit is still looked for, and
// farthestDigit how many quarters.
const mostBetween = 4

var farthestDigit = score.Whole(2)

func near(x, y score.Fraction) bool {
	d := x.Sub(y)
	return d.Cmp(farthestDigit) <= 0 && score.Fraction{}.Sub(d).Cmp(farthestDigit) <= 0
}

// between reports that a moment strictly between two is marked.
func between(marked map[int]bool, p, q int) bool {
	for r := min(p, q) + 1; r < max(p, q); r++ {
		if marked[r] {
			return true
		}
	}
	return false
}

// spotOfDigit is where a digit stands, in B's time and on B's staves.
type spotOfDigit struct {
	note  int // in B, -1 where it has none there
	at    playing.Instant
	rank  int
	staff int
	midi  int
}

func (c *comparison) spotOf(n int, inA bool, moments []playing.Instant) spotOfDigit {
	out := spotOfDigit{note: n}
	if inA {
		if out.note = c.al.ToB[n]; out.note < 0 {
			out.note = c.al.CoverB[n]
		}
	}
	if out.note >= 0 {
		note := &c.b.score.Notes[out.note]
		out.at, out.staff, out.midi = playing.InstantOf(c.b.score, out.note), c.b.staves.of(note.Part, note.Staff), note.Midi
	} else {
		note := &c.a.score.Notes[n]
		at, _ := c.timeInA(note.Measure, note.Onset, false)
		out.at, out.staff = playing.Instant{At: at, Rank: playing.RankOf(c.a.score, n)}, c.staffToB(note.Part, note.Staff)
		out.midi = note.Midi
	}
	out.rank, _ = slices.BinarySearchFunc(moments, out.at, playing.Instant.Compare)
	return out
}

// momentsOfB lists the moments at which notes of B begin, in order.
func (c *comparison) momentsOfB() []playing.Instant {
	s := c.b.score
	out := make([]playing.Instant, 0, len(s.Notes))
	for i := range s.Notes {
		if c.b.in[i] {
			out = append(out, playing.InstantOf(s, i))
		}
	}
	slices.SortFunc(out, playing.Instant.Compare)
	return slices.Compact(out)
}

// digitsAtRests compares the digits that stand at rests, and gives back those
// that one side lacks there.
func (c *comparison) digitsAtRests() (gone, come []loose) {
	type spot struct {
		at    score.Fraction
		staff int
		text  string
	}
	there := map[spot][]int{} // indices in come
	gather := func(v *view, inA bool, then func(s spot, l loose)) {
		for i := range v.score.Notes {
			n := &v.score.Notes[i]
			if n.Kind != score.Rest || len(n.Indications) == 0 || n.Hidden {
				continue
			}
			s, ok := spot{}, false
			if inA {
				s.at, ok = c.timeInA(n.Measure, n.Onset, false)
				s.staff = c.staffToB(n.Part, n.Staff)
			} else {
				s.at, ok = c.timeInB(n.Measure, n.Onset)
				s.staff = v.staves.of(n.Part, n.Staff)
			}
			for _, d := range readingOf(n) {
				if s.text = d.text; ok {
					then(s, loose{note: i, text: d.text})
				}
			}
		}
	}
	gather(c.b, false, func(s spot, l loose) {
		there[s] = append(there[s], len(come))
		come = append(come, l)
	})
	same := map[int]bool{}
	gather(c.a, true, func(s spot, l loose) {
		if list := there[s]; len(list) > 0 {
			same[list[0]], there[s] = true, list[1:]
			return
		}
		gone = append(gone, l)
	})
	var out []loose
	for j, l := range come {
		if !same[j] {
			out = append(out, l)
		}
	}
	return gone, out
}
