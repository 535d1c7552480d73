package align

import "fingerproof/corpus/score"

// strays looks for notes that slipped out of their measure: over a barline,
// or into the other half of a measure that a cut left in two. Neighbouring
// spans with unpaired notes on both sides are read once more as a whole.
func (p *pairing) strays() {
	for k := 0; k < len(p.spans); {
		end := k
		for end < len(p.spans) && p.hasAlone(p.spans[end]) {
			end++
		}
		if end-k > 1 {
			p.straysIn(p.spans[k:end])
		}
		k = max(end, k+1)
	}
}

func (p *pairing) hasAlone(s span) bool {
	return p.anyAlone(p.a, s.a, p.al.ToB) || p.anyAlone(p.b, s.b, p.al.ToA)
}

func (p *pairing) anyAlone(m *material, r Range, to []int) bool {
	for i := r.From; i < r.To; i++ {
		for _, it := range m.measures[i].items {
			if to[it.note] < 0 {
				return true
			}
		}
	}
	return false
}

// straysIn pairs unpaired notes across the barlines of some spans. A missing
// measure is never compared with an inserted one: a measure that moved is
// missing here and extra there.
func (p *pairing) straysIn(spans []span) {
	for _, whole := range []bool{true, false} {
		var x, y []item
		at := int64(0) // where the span begins on a common time line
		for _, s := range spans {
			paired := s.a.Len() > 0 && s.b.Len() > 0
			if paired || whole {
				x = p.gather(x, p.a, s.a, at+s.shift, p.al.ToB)
			}
			if paired || !whole {
				y = p.gather(y, p.b, s.b, at, p.al.ToA)
			}
			at += max(p.b.length(s.b), p.a.length(s.a)+s.shift)
		}
		if len(x) == 0 || len(y) == 0 || len(x)*len(y) > shiftCells*16 {
			continue
		}
		r := newReading(x, y, p.staff, p.unlikeness)
		r.shifted(farthestShift)
		r.between()
		for i, j := range r.to {
			if j >= 0 {
				p.al.ToB[x[i].note], p.al.ToA[y[j].note] = int(y[j].note), int(x[i].note)
			}
		}
	}
}

func (p *pairing) gather(out []item, m *material, r Range, at int64, to []int) []item {
	for i := r.From; i < r.To; i++ {
		for _, it := range m.measures[i].items {
			if to[it.note] < 0 {
				it.tick += at + m.start[i] - m.start[r.From]
				out = append(out, it)
			}
		}
	}
	return out
}

// between pairs what is left between two paired neighbours, where both sides
// have as many notes there: other keys within one row.
func (r *reading) between() {
	for i := 1; i < len(r.x); i++ {
		if r.to[i] >= 0 || r.to[i-1] < 0 {
			continue
		}
		end := i
		for end < len(r.x) && r.to[end] < 0 {
			end++
		}
		j := int(r.to[i-1]) + 1
		if end == len(r.x) || int(r.to[end])-j != end-i {
			continue
		}
		for k := range end - i {
			if d := r.x[i+k].midi - r.y[j+k].midi; r.from[j+k] < 0 && d <= 12 && d >= -12 {
				r.pair(i+k, j+k)
			}
		}
	}
}

// coverTies finds, for a note without counterpart that only continues a tie,
// the note of the other score that sounds there because the tie was merged or
// split otherwise.
func (p *pairing) coverTies() {
	al := p.al
	coverTies(al.A, al.B, al.InA, al.ToB, al.CoverB)
	coverTies(al.B, al.A, al.InB, al.ToA, al.CoverA)
}

func coverTies(from, to *score.Score, in []bool, other, cover []int) {
	for i := range from.Notes {
		n := &from.Notes[i]
		if !in[i] || other[i] >= 0 || n.TiedFrom < 0 {
			continue
		}
		head := Head(from, i)
		if other[head] < 0 {
			continue
		}
		into := from.At(i).Sub(from.At(head))
		b := Head(to, other[head])
		start := to.At(b)
		for at := b; at >= 0; at = to.Notes[at].TiedTo {
			end := to.At(at).Sub(start).Add(to.Notes[at].Duration)
			if into.Less(end) || to.Notes[at].TiedTo < 0 {
				if into.Less(end) {
					cover[i] = at
				}
				break
			}
		}
	}
}

// coverUnisons finds, for a note without counterpart that doubles a paired one
// (one key, one moment, two stems), the note the other score has for it.
func (p *pairing) coverUnisons() {
	al := p.al
	p.coverUnisonsOf(p.a, al.ToB, al.CoverB)
	p.coverUnisonsOf(p.b, al.ToA, al.CoverA)
}

func (p *pairing) coverUnisonsOf(m *material, other, cover []int) {
	for i := range m.measures {
		items := m.measures[i].items
		for k, it := range items {
			if other[it.note] >= 0 || cover[it.note] >= 0 {
				continue
			}
			for _, step := range []int{-1, 1} {
				for at := k + step; at >= 0 && at < len(items) && items[at].tick == it.tick &&
					cover[it.note] < 0; at += step {
					if items[at].midi == it.midi && graceClass(items[at]) == graceClass(it) &&
						other[items[at].note] >= 0 {
						cover[it.note] = other[items[at].note]
					}
				}
			}
		}
	}
}

// Head returns the note that is struck where a tied note sounds: the note
// itself where it continues nothing. Ties that run in a circle, which only a
// broken reader makes, end after as many steps as there are notes.
func Head(s *score.Score, n int) int {
	for range s.Notes {
		if s.Notes[n].TiedFrom < 0 {
			break
		}
		n = s.Notes[n].TiedFrom
	}
	return n
}
