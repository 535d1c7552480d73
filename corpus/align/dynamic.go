package align

import "slices"

// Scores of the dynamic programme, in thousandths of a measure.
const (
	// leastLikeness is what two measures must share to be called the same
	// measure; below it, one is missing and the other is inserted.
	leastLikeness = 250
	// rebarringCost is what each barline more costs a re-barred pair, so that
	// plain pairs come first.
	rebarringCost = 60
	// sameDress rewards equal digits and durations: among several copies of
	// one measure it pairs those that look alike.
	sameDress = 8
	// longestRun of measures that re-barring may join.
	longestRun = 4
	// fullCells bounds the cells of an unbanded table, bandCells of a banded one.
	fullCells = 1 << 17
	bandCells = 1 << 20
)

// move is one step of the dynamic programme: this many measures of each.
type move struct{ a, b int8 }

// dynamic pairs the measures of two gaps by the best total of likeness. In a
// gap of more than fullCells cells only a band about the diagonal is searched.
func (m *matcher) dynamic(a, b Range) {
	rows, cols := a.Len(), b.Len()
	switch {
	case rows == 0 && cols == 0:
		return
	case rows == 0 || cols == 0:
		m.unpaired(a, b)
		return
	}
	t := newTable(rows, cols)
	for i := 0; i <= rows; i++ {
		lo, hi := t.band(i)
		for j := lo; j <= hi; j++ {
			if i == 0 && j == 0 {
				continue
			}
			m.fill(t, a, b, i, j)
		}
	}
	var steps []span
	for i, j := rows, cols; i > 0 || j > 0; {
		s := t.step[t.at(i, j)]
		x, y := Range{a.From + i - int(s.a), a.From + i}, Range{b.From + j - int(s.b), b.From + j}
		out := span{a: x, b: y}
		if s.a > 0 && s.b > 0 {
			out.likeness, out.shift = m.likeness(x, y)
		}
		steps = append(steps, out)
		i, j = i-int(s.a), j-int(s.b)
	}
	slices.Reverse(steps)
	m.spans = append(m.spans, steps...)
}

// unpaired adds measures that stand in one score only.
func (m *matcher) unpaired(a, b Range) {
	for i := a.From; i < a.To; i++ {
		m.spans = append(m.spans, span{a: Range{i, i + 1}, b: Range{b.From, b.From}})
	}
	for j := b.From; j < b.To; j++ {
		m.spans = append(m.spans, span{a: Range{a.To, a.To}, b: Range{j, j + 1}})
	}
}

// fill finds the best way to reach a cell. Ties go to the earlier candidate:
// a plain pair, then a missing measure, then an inserted one, then re-barring.
func (m *matcher) fill(t *table, a, b Range, i, j int) {
	best, step := int32(-1<<30), move{}
	try := func(da, db int, gain int32) {
		if i < da || j < db || !t.inside(i-da, j-db) {
			return
		}
		if v := t.total[t.at(i-da, j-db)] + gain; v > best {
			best, step = v, move{int8(da), int8(db)}
		}
	}
	if i > 0 && j > 0 && t.inside(i-1, j-1) {
		x, y := a.From+i-1, b.From+j-1
		if l, _ := m.likeness(Range{x, x + 1}, Range{y, y + 1}); l >= leastLikeness {
			gain := int32(l - leastLikeness/2)
			if m.a.measures[x].whole == m.b.measures[y].whole {
				gain += sameDress
			}
			try(1, 1, gain)
		}
	}
	try(1, 0, 0)
	try(0, 1, 0)
	for da := 1; da <= min(i, longestRun); da++ {
		for db := 1; db <= min(j, longestRun); db++ {
			if da == 1 && db == 1 || !t.inside(i-da, j-db) {
				continue
			}
			x, y := Range{a.From + i - da, a.From + i}, Range{b.From + j - db, b.From + j}
			if !m.rebarred(x, y) {
				continue
			}
			if l, _ := m.likeness(x, y); l >= 2*leastLikeness {
				try(da, db, int32((l-leastLikeness/2)*(da+db)/2-rebarringCost*(da+db-2)))
			}
		}
	}
	at := t.at(i, j)
	t.total[at], t.step[at] = best, step
}

// table holds the totals of a band about the diagonal.
type table struct {
	rows, cols, half, width int
	total                   []int32
	step                    []move
}

func newTable(rows, cols int) *table {
	t := &table{rows: rows, cols: cols, half: cols, width: cols + 1}
	if rows*cols > fullCells {
		t.half = max(bandCells/(rows+1)/2, 16)
		t.width = min(2*t.half+cols/max(rows, 1)+2, cols+1)
	}
	t.total = make([]int32, (rows+1)*t.width)
	t.step = make([]move, (rows+1)*t.width)
	return t
}

// band gives the columns searched in a row; rows overlap by design, so that
// the corner is always reached.
func (t *table) band(i int) (lo, hi int) {
	if t.width == t.cols+1 {
		return 0, t.cols
	}
	centre := i * t.cols / t.rows
	lo = min(max(centre-t.half, 0), t.cols+1-t.width)
	return lo, lo + t.width - 1
}

func (t *table) inside(i, j int) bool {
	lo, hi := t.band(i)
	return j >= lo && j <= hi
}

func (t *table) at(i, j int) int {
	lo, _ := t.band(i)
	return i*t.width + j - lo
}
