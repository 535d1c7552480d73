package align

import "slices"

// depth picks one of the fingerprints of a measure, from strict to lenient.
type depth int

const (
	byMusic  depth = iota // onsets and keys; at the ends of a gap durations and digits too
	byKeys                // onsets and keys
	byOctave              // onsets and note names: octave signs, transposed staves
	byOrder               // the row of keys: other note values, other divisions
)

func (m *measureItems) print(d depth) uint64 {
	switch d {
	case byOctave:
		return m.octave
	case byOrder:
		return m.order
	}
	return m.exact
}

// matcher pairs the measures of two scores.
type matcher struct {
	a, b  *material
	spans []span
}

// span is a pair of runs, with the shift in ticks.
type span struct {
	a, b     Range
	likeness int
	shift    int64
}

// matchMeasures pairs all measures: anchors first, the rest between them by
// dynamic programming. It takes O(n log n) for scores that mostly agree and
// never more than bandCells cells of work at a time where they do not.
func matchMeasures(a, b *material) []span {
	m := &matcher{a: a, b: b}
	m.between(Range{0, len(a.measures)}, Range{0, len(b.measures)}, byMusic)
	return m.spans
}

func (m *matcher) pair(i, j int) {
	likeness, shift := m.likeness(Range{i, i + 1}, Range{j, j + 1})
	m.spans = append(m.spans, span{Range{i, i + 1}, Range{j, j + 1}, likeness, shift})
}

// between pairs the measures of two gaps: what is equal at their ends, then
// the rest. At first only measures equal in durations and digits too count at
// the ends: among several copies of one measure that were cut down to fewer,
// the ends are no proof.
func (m *matcher) between(a, b Range, d depth) {
	for a.Len() > 0 && b.Len() > 0 && m.equal(a.From, b.From, d) {
		m.pair(a.From, b.From)
		a.From++
		b.From++
	}
	tail := 0
	for a.Len() > tail && b.Len() > tail && m.equal(a.To-1-tail, b.To-1-tail, d) {
		tail++
	}
	a.To -= tail
	b.To -= tail
	m.inner(a, b, d)
	for k := range tail {
		m.pair(a.To+k, b.To+k)
	}
}

// equal says that two measures are equal and worth anchoring on. One of rests is
// equal to nothing: the dynamic programme places it.
func (m *matcher) equal(i, j int, d depth) bool {
	x, y := &m.a.measures[i], &m.b.measures[j]
	if d == byMusic && x.whole != y.whole {
		return false
	}
	return len(x.items) > 0 && x.print(d) == y.print(d)
}

func (m *matcher) inner(a, b Range, d depth) {
	if a.Len() == 0 || b.Len() == 0 || a.Len()*b.Len() <= 16 {
		m.dynamic(a, b)
		return
	}
	anchors := m.unique(a, b, d)
	if len(anchors) == 0 {
		if a.Len()*b.Len() > fullCells && d < byOrder {
			m.between(a, b, d+1)
			return
		}
		m.dynamic(a, b)
		return
	}
	for _, at := range anchors {
		m.between(Range{a.From, at.a}, Range{b.From, at.b}, d)
		m.pair(at.a, at.b)
		a.From, b.From = at.a+1, at.b+1
	}
	m.between(a, b, d)
}

type anchor struct{ a, b, weight int }

// unique finds measures whose music stands once in each gap and keeps the
// heaviest row of them that runs in the same order in both; a measure weighs
// as many notes as it has, so that a lone note does not outvote a page.
func (m *matcher) unique(a, b Range, d depth) []anchor {
	type seen struct{ countA, countB, a, b int }
	at := make(map[uint64]*seen, a.Len())
	for i := a.From; i < a.To; i++ {
		key := m.a.measures[i].print(d)
		if s := at[key]; s != nil {
			s.countA++
		} else if len(m.a.measures[i].items) > 0 {
			at[key] = &seen{countA: 1, a: i}
		}
	}
	for j := b.From; j < b.To; j++ {
		if s := at[m.b.measures[j].print(d)]; s != nil && len(m.b.measures[j].items) > 0 {
			s.countB++
			s.b = j
		}
	}
	var found []anchor
	for i := a.From; i < a.To; i++ {
		s := at[m.a.measures[i].print(d)]
		if s != nil && s.a == i && s.countA == 1 && s.countB == 1 {
			found = append(found, anchor{s.a, s.b, len(m.a.measures[s.a].items)})
		}
	}
	return heaviestRow(found, b)
}

// heaviestRow returns the subsequence with rising b and the greatest weight;
// anchors come in rising order of a. A Fenwick tree of prefix maxima makes it
// O(n log n).
func heaviestRow(found []anchor, b Range) []anchor {
	if len(found) == 0 {
		return nil
	}
	size := b.Len() + 1
	best := make([]int, size+1) // index into found, plus one
	total := make([]int, len(found))
	before := make([]int, len(found))
	for k, at := range found {
		before[k] = -1
		for p := at.b - b.From; p > 0; p -= p & -p {
			if e := best[p] - 1; e >= 0 && (before[k] < 0 || total[e] > total[before[k]]) {
				before[k] = e
			}
		}
		total[k] = at.weight
		if before[k] >= 0 {
			total[k] += total[before[k]]
		}
		for p := at.b - b.From + 1; p <= size; p += p & -p {
			if best[p] == 0 || total[best[p]-1] < total[k] {
				best[p] = k + 1
			}
		}
	}
	last := 0
	for k := range total {
		if total[k] > total[last] {
			last = k
		}
	}
	var row []anchor
	for k := last; k >= 0; k = before[k] {
		row = append(row, found[k])
	}
	slices.Reverse(row)
	return row
}
