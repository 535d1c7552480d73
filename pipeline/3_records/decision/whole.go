package decision

import (
	"slices"

	"fingerproof/corpus/score"
)

// The text in which decisions were made is remembered as the table of their file: the music and the number of each of its measures,
// and of the measures of which something was decided the notes that the decisions name. Laid beside the score as it stands now, the
// whole of it says which measure is which: a refrain whose one measure was corrected stands between the same neighbours as ever, and
// its like elsewhere are the images of other measures.

// What a pair of measures gains in the alignment, in hundredths of a measure that is the same.
const (
	gainSame    = 100
	gainSilent  = 40  // nothing is struck in either
	gainAlike   = 60  // all the notes that are remembered are there, and others differ
	lossUnlike  = -60 // fewer than half of them are: worse than one measure gone and another put in
	lossNoSound = -30 // one of the two has no note
	lossAlone   = -25 // a measure that stands on one side only
	// A place is sure where every other is worse by so much, or has the same music and may be it just as well.
	clearLead = 30
	// leastKnown notes must be remembered of a measure for what became of them to speak.
	leastKnown = 4
	// mostGone notes of a measure may have been corrected for the rest of it to be the notes that they were, whatever stands around each.
	mostGone = 2
	// movedReach is how many measures off its place a measure is looked for that changed places: neighbours that were exchanged.
	movedReach = 2
	// bandReach is how many measures further than by the measures put in and taken out a measure is looked for.
	bandReach = 96
)

// of gives the table where a line's measure is one of its rows, and the row: the line's music is that of the table, or most of its
// landmarks are. nil where neither is so.
func (t *Table) of(l *musicLine, marks []Landmark) (*Table, int) {
	at, known := t.at(l)
	switch {
	case !known:
		return nil, 0
	case l.tabled:
		return t, at
	}
	agree, all := 0, 0
	for _, m := range marks {
		if m.By == l.by {
			continue
		}
		all++
		if k := at + m.By - l.by; k >= 0 && k < len(t.rows) && t.rows[k].music == m.Music {
			agree++
		}
	}
	if l.music == "" || 2*agree <= all {
		return nil, 0
	}
	return t, at
}

// learn keeps the notes that a line of the table's text names.
func (t *Table) learn(at int, moments []moment) {
	if t.known == nil {
		t.known = make([][]uint64, len(t.rows))
	}
	for i := range moments {
		ref := &moments[i].ref
		t.known[at] = append(t.known[at], strokeKey(ref.Onset, ref.Grace, ref.Midi))
	}
}

// learned sorts what was learned.
func (t *Table) learned() {
	if t == nil {
		return
	}
	for i := range t.known {
		slices.Sort(t.known[i])
		t.known[i] = slices.Compact(t.known[i])
	}
}

// strokeKey is a number for a key at a moment of its measure.
func strokeKey(onset score.Fraction, grace, midi int) uint64 {
	return uint64(onset.Num())<<32 ^ uint64(onset.Den())<<16 ^ uint64(grace)<<8 ^ uint64(midi)
}

// whole is a table beside the score: the place of each of its measures in it.
type whole struct {
	table *Table
	at    []int      // by row of the table: its measure in the score as it stands, -1 where it is gone or not sure
	near  []int      // by row: the measure that stands where it stood, sure or not
	doubt []bool     // by row: one of several with its music is gone, and nothing tells which
	kept  []bool     // by row: of the notes that are remembered of it all but one or two stand in its measure
	now   [][]uint64 // the notes of the score's measures
	taken []bool     // by measure of the score: a measure of the table is surely here
	among [][2]int   // by row: the first measure that it may be, and that behind the last; none where it is gone
}

// wholeOf lays a table beside the score, once for each.
func (f *Finder) wholeOf(t *Table) *whole {
	f.laying.Lock()
	defer f.laying.Unlock()
	if w, ok := f.wholes[t]; ok {
		return w
	}
	if f.wholes == nil {
		f.wholes = map[*Table]*whole{}
	}
	w := f.layWhole(t)
	f.wholes[t] = w
	return w
}

// strokes gives the notes of each measure as a table remembers them, sorted.
func (f *Finder) strokes() [][]uint64 {
	out := make([][]uint64, len(f.music))
	for n := range f.score.Notes {
		if f.index.Holds(n) {
			a := f.addresses[n]
			out[a.Measure] = append(out[a.Measure], strokeKey(a.Onset, a.Grace, a.Midi))
		}
	}
	for i := range out {
		slices.Sort(out[i])
	}
	return out
}

// common is how many of sorted numbers stand among others.
func common(of, among []uint64) int {
	found, k := 0, 0
	for _, v := range of {
		for k < len(among) && among[k] < v {
			k++
		}
		if k < len(among) && among[k] == v {
			found++
		}
	}
	return found
}

func (f *Finder) layWhole(t *Table) *whole {
	rows, cols := len(t.rows), len(f.music)
	w := &whole{
		table: t, at: make([]int, rows), near: make([]int, rows), kept: make([]bool, rows), among: make([][2]int, rows),
		doubt: make([]bool, rows), taken: make([]bool, cols),
	}
	l := &laying{w: w, f: f, t: t, rows: rows, cols: cols, reach: max(rows-cols, cols-rows) + bandReach, now: f.strokes()}
	if l.same() {
		for i := range rows {
			w.at[i], w.near[i], w.kept[i], w.taken[i] = i, i, true, true
		}
		return w
	}
	w.now = l.now
	l.sums()
	for i := range rows {
		w.at[i] = -1
		l.place(i)
	}
	l.byNumber()
	l.between()
	l.leaveMoved()
	for _, m := range w.at {
		if m >= 0 {
			w.taken[m] = true
		}
	}
	l.followMoved()
	for i, m := range w.at {
		if m >= 0 && i < len(t.known) && len(t.known[i]) >= leastKnown {
			gone := len(t.known[i]) - common(t.known[i], l.now[m])
			w.kept[i] = gone <= mostGone && 3*gone <= len(t.known[i]) || 10*gone <= len(t.known[i])
		}
	}
	return w
}

// laying is an alignment in the making: the best sum of gains up to each pair of a measure of the table and one of the score, and
// from there on. Both together tell of any place what it costs to hold it for the one.
type laying struct {
	w                 *whole
	f                 *Finder
	t                 *Table
	rows, cols, reach int
	now               [][]uint64
	before, behind    [][]int32 // by row, 0 to rows; by column within the band
	gains             [][]int32 // by row; by column within the band
	several, fewer    []int     // rows that may be any of several measures with their music; and those of which one is gone
}

// same says that the measures have the music that they had.
func (l *laying) same() bool {
	if l.rows != l.cols {
		return false
	}
	for i := range l.t.rows {
		if l.t.rows[i].music != l.f.music[i] {
			return false
		}
	}
	return true
}

const nowhere = -1 << 28

// low and high are the first and the last column of a row's band.
func (l *laying) low(i int) int  { return max(i-l.reach, 0) }
func (l *laying) high(i int) int { return min(i+l.reach, l.cols) }

func (l *laying) get(of [][]int32, i, j int) int32 {
	if i < 0 || i > l.rows || j < l.low(i) || j > l.high(i) {
		return nowhere
	}
	return of[i][j-l.low(i)]
}

// gain is what it is worth to hold a measure of the table and one of the score for the same.
func (l *laying) gain(i, j int) int32 {
	row, music := &l.t.rows[i], l.f.music[j]
	out := int32(0)
	switch {
	case row.music == music && music == "":
		out = gainSilent
	case row.music == music:
		out = gainSame
	case row.music == "" || music == "":
		return lossNoSound
	case i < len(l.t.known) && len(l.t.known[i]) >= leastKnown:
		s := 1000 * common(l.t.known[i], l.now[j]) / len(l.t.known[i])
		if s < 500 {
			return lossUnlike
		}
		out = int32(s-500) * gainAlike / 500
	}
	return out
}

func (l *laying) sums() {
	gains := make([][]int32, l.rows) // by row, of the columns of its band and of the next one's
	l.before, l.behind = make([][]int32, l.rows+1), make([][]int32, l.rows+1)
	for i := 0; i <= l.rows; i++ {
		width := max(l.high(i)-l.low(i)+1, 0)
		l.before[i], l.behind[i] = make([]int32, width), make([]int32, width)
		if i < l.rows {
			gains[i] = make([]int32, width)
			for j := l.low(i); j < min(l.high(i)+1, l.cols); j++ {
				gains[i][j-l.low(i)] = l.gain(i, j)
			}
		}
	}
	for i := 0; i <= l.rows; i++ {
		for j := l.low(i); j <= l.high(i); j++ {
			v := int32(nowhere)
			if i == 0 && j == 0 {
				v = 0
			}
			if i > 0 && j > 0 {
				if b := l.get(l.before, i-1, j-1); b > nowhere {
					v = max(v, b+gains[i-1][j-1-l.low(i-1)])
				}
			}
			v = max(v, l.get(l.before, i-1, j)+lossAlone)
			if j > l.low(i) {
				v = max(v, l.before[i][j-1-l.low(i)]+lossAlone)
			}
			l.before[i][j-l.low(i)] = v
		}
	}
	for i := l.rows; i >= 0; i-- {
		for j := l.high(i); j >= l.low(i); j-- {
			v := int32(nowhere)
			if i == l.rows && j == l.cols {
				v = 0
			}
			if i < l.rows && j < l.cols {
				if b := l.get(l.behind, i+1, j+1); b > nowhere {
					v = max(v, b+gains[i][j-l.low(i)])
				}
			}
			v = max(v, l.get(l.behind, i+1, j)+lossAlone)
			if j < l.high(i) {
				v = max(v, l.behind[i][j+1-l.low(i)]+lossAlone)
			}
			l.behind[i][j-l.low(i)] = v
		}
	}
	l.gains = gains
}

// place finds the measure of a row, where every other place is worse by a clear lead.
func (l *laying) place(i int) {
	alone, seam := int32(nowhere), 0
	for j := l.low(i); j <= l.high(i); j++ {
		if v := l.get(l.before, i, j) + lossAlone + l.get(l.behind, i+1, j); v > alone {
			alone, seam = v, j
		}
	}
	best, at := int32(nowhere), -1
	for j := l.low(i); j < min(l.high(i)+1, l.cols); j++ {
		if v := l.through(i, j); v > best {
			best, at = v, j
		}
	}
	if at < 0 || alone > best {
		l.w.near[i] = max(min(seam, l.cols-1), 0)
	} else {
		l.w.near[i] = at
	}
	if at < 0 || alone >= best+clearLead {
		return
	}
	same, first, last := l.f.music[at] == l.t.rows[i].music, at, at
	for j := l.low(i); j < min(l.high(i)+1, l.cols); j++ {
		if l.through(i, j) > best-clearLead {
			first, last = min(first, j), max(last, j)
			same = same && l.f.music[j] == l.f.music[at]
		}
	}
	l.w.among[i] = [2]int{first, last + 1}
	switch {
	case alone <= best-clearLead && first == last:
		l.w.at[i] = at
	case alone <= best-clearLead && same:
		l.several = append(l.several, i)
	case same && at == l.w.near[i]:
		l.fewer = append(l.fewer, i)
	}
}

// through is the best sum of an alignment that holds a row and a measure for the same.
func (l *laying) through(i, j int) int32 {
	return l.get(l.before, i, j) + l.gains[i][j-l.low(i)] + l.get(l.behind, i+1, j+1)
}

// byNumber places rows that may be any of several measures that are alike: by their numbers, where those of the measures on either
// side are as they were. Else they are the first ones where more stand there now, as when a repeat was written out; and where there
// are fewer, nothing tells which is gone.
func (l *laying) byNumber() {
	sure := slices.Clone(l.w.at)
	keeps := func(i int) bool { return l.t.rows[i].printed == l.f.score.Measures[sure[i]].Number }
	numbered := func(i int) int {
		before, behind := i-1, i+1
		for before >= 0 && sure[before] < 0 {
			before--
		}
		for behind < l.rows && sure[behind] < 0 {
			behind++
		}
		if before >= 0 && !keeps(before) || behind == l.rows || !keeps(behind) {
			return -1
		}
		for j := l.w.among[i][0]; j < l.w.among[i][1]; j++ {
			if l.f.score.Measures[j].Number == l.t.rows[i].printed && l.f.music[j] == l.t.rows[i].music {
				return j
			}
		}
		return -1
	}
	for _, i := range l.fewer {
		l.w.at[i] = numbered(i)
		l.w.doubt[i] = l.w.at[i] < 0
	}
	for _, i := range l.several {
		if l.w.at[i] = numbered(i); l.w.at[i] < 0 {
			l.w.at[i] = l.w.near[i]
		}
	}
}

// exact says that a row is surely a measure, and the music the same; beyond either end it is.
func (l *laying) exact(i, m int) bool {
	return i < 0 && m < 0 || i >= l.rows && m >= l.cols ||
		i >= 0 && i < l.rows && m >= 0 && m < l.cols && l.w.at[i] == m && l.t.rows[i].music == l.f.music[m]
}

// between places a row whose neighbours stand on either side of one measure: it is that one, however much of it was corrected.
func (l *laying) between() {
	for i := range l.rows {
		if l.w.at[i] >= 0 || l.w.doubt[i] || l.t.rows[i].music == "" {
			continue
		}
		m := 0
		if i > 0 {
			m = l.w.at[i-1] + 1
		}
		if m < l.cols && l.exact(i-1, m-1) && l.exact(i+1, m+1) && l.f.music[m] != "" {
			l.w.at[i], l.w.near[i] = m, m
		}
	}
}

// followMoved places a row where its music stands, if it stands in one measure that is no other row's and no other row lost it: the
// measure changed places.
func (l *laying) followMoved() {
	free, lost := map[string][]int{}, map[string]int{}
	for j, music := range l.f.music {
		if !l.w.taken[j] {
			free[music] = append(free[music], j)
		}
	}
	for i := range l.rows {
		if l.w.at[i] < 0 {
			lost[l.t.rows[i].music]++
		}
	}
	for i := range l.rows {
		music := l.t.rows[i].music
		if l.w.at[i] < 0 && !l.w.doubt[i] && music != "" && lost[music] == 1 && len(free[music]) == 1 &&
			max(free[music][0]-l.w.near[i], l.w.near[i]-free[music][0]) <= movedReach {
			l.w.at[i] = free[music][0]
			l.w.near[i], l.w.taken[l.w.at[i]] = l.w.at[i], true
		}
	}
}

// leaveMoved leaves out measures with other music than the one remembered where that music stands, or comes from, elsewhere: they
// were not corrected, but changed places. It leaves out as well those of which nothing is remembered, where the measures beside them
// do not say which they are.
func (l *laying) leaveMoved() {
	w, sure := l.w, slices.Clone(l.w.at)
	moved := func(i, m int) bool {
		for j, music := range l.f.music { // is the row's music there now, and of no other row?
			if music == l.t.rows[i].music && music != "" && !l.has(music, j) {
				return true
			}
		}
		for k := range l.t.rows { // was the measure's music there before, and is nowhere now?
			if k != i && l.t.rows[k].music == l.f.music[m] && (w.among[k] == [2]int{} || sure[k] >= 0 && l.f.music[sure[k]] != l.t.rows[k].music) {
				return true
			}
		}
		return false
	}
	for i, m := range sure {
		if m < 0 || l.t.rows[i].music == l.f.music[m] {
			continue
		}
		known := i < len(l.t.known) && len(l.t.known[i]) >= leastKnown
		if moved(i, m) || !known && !(l.exact(i-1, m-1) && l.exact(i+1, m+1)) {
			w.at[i] = -1
		}
	}
}

// has says that a row with some music is, or may be, a measure that has it.
func (l *laying) has(music string, j int) bool {
	for k := range l.t.rows {
		if l.t.rows[k].music == music && j >= l.w.among[k][0] && j < l.w.among[k][1] && (l.w.at[k] < 0 || l.w.at[k] == j || l.f.music[l.w.at[k]] == music) {
			return true
		}
	}
	return false
}
