package align

import (
	"cmp"

	"fingerproof/corpus/score"
)

// Align pairs the notes and measures of two scores. It never fails: scores
// that have nothing in common give an alignment without pairs. Time is
// O(n log n) where the scores mostly agree; where they do not, bounded by
// banded tables (see dynamic).
func Align(a, b *score.Score, opts Options) *Alignment {
	ma, mb := prepare(a, opts.PartsA), prepare(b, opts.PartsB)
	al := &Alignment{
		A: a, B: b, InA: ma.in, InB: mb.in,
		ToB: none(len(a.Notes)), ToA: none(len(b.Notes)),
		CoverB: none(len(a.Notes)), CoverA: none(len(b.Notes)),
		Kinds:   make([]Kind, len(a.Notes)),
		SpanOfA: make([]int, len(a.Measures)), SpanOfB: make([]int, len(b.Measures)),
	}
	p := &pairing{al: al, a: ma, b: mb}
	if opts.Measures == nil {
		p.spans = matchMeasures(ma, mb)
	} else {
		p.spans = opts.Measures.spans()
	}
	p.learnStaves()
	for k := range p.spans {
		p.notesOf(k)
	}
	p.strays()
	p.writeSpans()
	p.copies()
	p.coverTies()
	p.coverUnisons()
	p.kinds()
	return al
}

func none(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = -1
	}
	return out
}

// pairing is an alignment in the making.
type pairing struct {
	al    *Alignment
	a, b  *material
	spans []span
	staff staffMap // of the whole score
}

// learnStaves finds which staff became which, from measures with equal music.
func (p *pairing) learnStaves() {
	var votes staffVotes
	for _, s := range p.spans {
		if s.likeness == 1000 && s.a.Len() == 1 && s.b.Len() == 1 {
			votes.count(p.a.run(s.a), p.b.run(s.b), s.shift)
		}
	}
	p.staff = votes.winner(staffMap{})
	staves := 0
	for _, part := range p.al.A.Parts {
		staves = max(staves, part.Staves)
	}
	p.al.StaffToB = make([]int, staves+1)
	for k := range p.al.StaffToB {
		p.al.StaffToB[k] = int(p.staff.of(int8(min(k, 127))))
	}
}

// staffVotes counts, by staff, the staff of equal notes in the other score.
type staffVotes [8][8]int

func (v *staffVotes) count(x, y []item, shift int64) {
	for i, j := 0, 0; i < len(x) && j < len(y); {
		a, b := x[i], y[j]
		a.tick += shift
		switch {
		case a.tick == b.tick && a.midi == b.midi && graceClass(a) == graceClass(b):
			if a.staff >= 0 && a.staff < 8 && b.staff >= 0 && b.staff < 8 {
				v[a.staff][b.staff]++
			}
			i++
			j++
		case cmp.Or(together(a, b), cmp.Compare(a.midi, b.midi)) < 0:
			i++
		default:
			j++
		}
	}
}

// winner gives the staff with most votes, the fallback where fewer than three
// were cast; ties go to the fallback, then to the lower staff.
func (v *staffVotes) winner(fallback staffMap) staffMap {
	out := fallback
	for k, row := range v {
		best, sum := int8(0), 0
		for to, n := range row {
			sum += n
			if n > row[best] || n == row[best] && int8(to) == fallback.of(int8(k)) {
				best = int8(to)
			}
		}
		if sum >= 3 {
			out[k] = best
		}
	}
	return out
}

// notesOf pairs the notes of one span.
func (p *pairing) notesOf(k int) {
	s := p.spans[k]
	if s.a.Len() == 0 || s.b.Len() == 0 {
		return
	}
	for _, pair := range p.pairRuns(s) {
		p.al.ToB[pair[0]], p.al.ToA[pair[1]] = pair[1], pair[0]
	}
}

// pairRuns gives the pairs of note indices of two runs.
func (p *pairing) pairRuns(s span) [][2]int {
	x, y := shiftedBy(p.a.run(s.a), s.shift), p.b.run(s.b)
	var votes staffVotes
	votes.count(x, y, 0)
	r := read(x, y, votes.winner(p.staff), p.unlikeness)
	var out [][2]int
	for i, j := range r.to {
		if j >= 0 {
			out = append(out, [2]int{int(r.x[i].note), int(y[j].note)})
		}
	}
	return out
}

func shiftedBy(items []item, by int64) []item {
	if by == 0 {
		return items
	}
	out := make([]item, len(items))
	for i, it := range items {
		it.tick += by
		out[i] = it
	}
	return out
}

// unlikeness counts what two notes of one key at one time differ in, apart from
// their music: for unisons only.
func (p *pairing) unlikeness(x, y item) int {
	m, n := &p.al.A.Notes[x.note], &p.al.B.Notes[y.note]
	cost := 0
	if x.part != y.part {
		cost += 16
	}
	if x.held != y.held {
		cost += 8
	}
	if m.Cue != n.Cue || m.Hidden != n.Hidden {
		cost += 8
	}
	if m.Duration != n.Duration {
		cost += 4
	}
	if m.Grace != n.Grace {
		cost += 2
	}
	if p.staff.of(x.staff) != y.staff {
		cost += 3
	}
	if !sameDigits(m.Indications, n.Indications) {
		cost += 2
	}
	if m.Voice != n.Voice {
		cost++
	}
	return cost
}

func sameDigits(a, b []score.Indication) bool {
	if len(a) != len(b) {
		return false
	}
	for k := range a {
		if a[k].Text != b[k].Text {
			return false
		}
	}
	return true
}

// spans gives the measures side by side as the search has them.
func (al *Alignment) spans() []span {
	out := make([]span, len(al.Spans))
	for k, s := range al.Spans {
		out[k] = span{s.A, s.B, s.Likeness, ticks(s.Shift)}
	}
	return out
}

func (p *pairing) writeSpans() {
	p.al.Spans = make([]Span, len(p.spans))
	for k, s := range p.spans {
		p.al.Spans[k] = Span{A: s.a, B: s.b, Likeness: s.likeness, Shift: score.Frac(s.shift, ticksPerQuarter)}
		for i := s.a.From; i < s.a.To; i++ {
			p.al.SpanOfA[i] = k
		}
		for j := s.b.From; j < s.b.To; j++ {
			p.al.SpanOfB[j] = k
		}
	}
}
