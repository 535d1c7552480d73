package align

import (
	"cmp"
	"fmt"
	"slices"
	"sync"

	"fingerproof/corpus/score"
)

// Context is what stands around a note: kept beside its address in decisions
// and passed states, it finds the note again when measures were inserted, cut
// or renumbered.
type Context struct {
	Printed string `json:"measure,omitempty" yaml:"measure,omitempty"` // the measure's number as printed
	Staff   int    `json:"staff,omitempty" yaml:"staff,omitempty"`
	Music   string `json:"music,omitempty" yaml:"music,omitempty"`   // fingerprint of the measure
	With    []int  `json:"with,omitempty" yaml:"with,omitempty"`     // other keys at the moment, from below
	Before  []int  `json:"before,omitempty" yaml:"before,omitempty"` // the keys before it, nearest first
	After   []int  `json:"after,omitempty" yaml:"after,omitempty"`   // the keys after it, nearest first
}

// Placement is where an address points to in a score.
type Placement struct {
	Note int // index in Score.Notes, -1 where nothing is like it
	// Sure says that it is the note and no other: all agrees, or nothing else
	// comes near. Otherwise an editor should look; Nearest helps.
	Sure    bool
	Nearest []Candidate // best first, at most nearestKept
}

// Candidate is a note that may be the one meant.
type Candidate struct {
	Note     int
	Likeness int // 0 to 1000
}

// What makes a candidate likely, in thousandths.
const (
	worthMusic     = 250 // the measure's music is the same
	worthWith      = 150
	worthBefore    = 200
	worthAfter     = 200
	worthOnset     = 100
	worthNear      = 60 // less 4 a measure of distance
	worthPrinted   = 20
	worthStaff     = 20
	octaveOff      = 150 // taken off for another octave
	leastSure      = 550
	clearlyBetter  = 40
	neighboursKept = 6
	nearestKept    = 3
)

// Index finds notes of one score by address and context. It is read only once
// made, and may be shared.
type Index struct {
	score     *score.Score
	addresses []score.Address
	tables    sync.Once // makes the next two, when a note is looked for
	exact     map[score.Address]int
	byKey     map[int][]int
	row       []int // notes in order of time
	at        []int // place in row by note, -1
	moment    []int // number of the moment by place in row
	music     []uint64
}

// NewIndex prepares a score; it takes O(n log n).
func NewIndex(s *score.Score) *Index {
	m := prepare(s, nil)
	x := &Index{
		score: s, addresses: s.Addresses(), at: none(len(s.Notes)),
	}
	for i := range m.measures {
		x.music = append(x.music, m.measures[i].exact)
		var last item
		for k, it := range m.measures[i].items {
			if k == 0 || together(it, last) != 0 {
				last = it
				x.moment = append(x.moment, len(x.moment))
			} else {
				x.moment = append(x.moment, x.moment[len(x.moment)-1])
			}
			n := int(it.note)
			x.at[n] = len(x.row)
			x.row = append(x.row, n)
		}
	}
	return x
}

// layTables makes what finds notes by address and by key: of most scores only the surroundings are asked for. The key of a
// note of the row is that which it was prepared with, its own.
func (x *Index) layTables() {
	x.exact, x.byKey = make(map[score.Address]int, len(x.row)), make(map[int][]int, 64)
	for _, n := range x.row {
		x.exact[x.addresses[n]] = n
		midi := x.score.Notes[n].Midi
		x.byKey[midi] = append(x.byKey[midi], n)
	}
}

// Addresses are those of the score, by note; they are shared.
func (x *Index) Addresses() []score.Address { return x.addresses }

// Staff is the staff of a pitched note of the keyboard parts, as Context has it; 0 for any other.
func (x *Index) Staff(n int) int {
	if x.at[n] < 0 {
		return 0
	}
	return x.score.Notes[n].Staff
}

// Context describes what stands around a note of the score. For anything but a
// pitched note of the keyboard parts it is empty.
func (x *Index) Context(n int) Context {
	at := x.at[n]
	if at < 0 {
		return Context{}
	}
	note := &x.score.Notes[n]
	c := Context{Printed: x.score.Measures[note.Measure].Number, Staff: note.Staff, Music: x.Music(note.Measure)}
	from, to := at, at+1
	for from > 0 && x.moment[from-1] == x.moment[at] {
		from--
	}
	for to < len(x.row) && x.moment[to] == x.moment[at] {
		to++
	}
	for k := from; k < to; k++ {
		if k != at {
			c.With = append(c.With, x.score.Notes[x.row[k]].Midi)
		}
	}
	for k := from - 1; k >= max(from-neighboursKept, 0); k-- {
		c.Before = append(c.Before, x.score.Notes[x.row[k]].Midi)
	}
	for k := to; k < min(to+neighboursKept, len(x.row)); k++ {
		c.After = append(c.After, x.score.Notes[x.row[k]].Midi)
	}
	return c
}

// Holds says that a note is one of those that the index places: a pitched note of the keyboard parts.
func (x *Index) Holds(n int) bool { return x.at[n] >= 0 }

// Music is the fingerprint of a measure: what is struck in it and when, as the
// keyboard sounds it.
func (x *Index) Music(measure int) string { return fmt.Sprintf("%016x", x.music[measure]) }

// Place finds the note an address and its context mean. An address that hits
// and whose surroundings agree is sure; so is one given without context. Where
// the note is gone, the nearest are still named.
func (x *Index) Place(a score.Address, c Context) Placement {
	x.tables.Do(x.layTables)
	hit, found := x.exact[a]
	if found && c.empty() {
		return Placement{Note: hit, Sure: true, Nearest: []Candidate{{hit, 1000}}}
	}
	var all []Candidate
	for _, by := range []int{0, 12, -12} {
		for _, n := range x.byKey[a.Midi+by] {
			l := x.likeness(n, a, c)
			if by != 0 {
				l -= octaveOff
			}
			if l > 0 {
				all = append(all, Candidate{n, l})
			}
		}
	}
	if len(all) == 0 {
		return Placement{Note: -1}
	}
	slices.SortStableFunc(all, func(p, q Candidate) int { return cmp.Compare(q.Likeness, p.Likeness) })
	out := Placement{Note: all[0].Note, Nearest: slices.Clone(all[:min(len(all), nearestKept)])}
	rival := 0
	for _, q := range all[1:] {
		if x.moment[x.at[q.Note]] != x.moment[x.at[out.Note]] ||
			x.score.Notes[q.Note].Midi != x.score.Notes[out.Note].Midi {
			rival = q.Likeness
			break
		}
	}
	out.Sure = all[0].Likeness >= leastSure && all[0].Likeness-rival >= clearlyBetter
	return out
}

func (c *Context) empty() bool {
	return c.Music == "" && len(c.With)+len(c.Before)+len(c.After) == 0
}

func (x *Index) likeness(n int, a score.Address, c Context) int {
	note, here := &x.score.Notes[n], x.Context(n)
	out := 0
	if c.Music != "" && c.Music == here.Music {
		out += worthMusic
	}
	out += worthWith * inCommon(c.With, here.With) / 1000
	out += worthBefore * inCommon(c.Before, here.Before) / 1000
	out += worthAfter * inCommon(c.After, here.After) / 1000
	if note.Onset == a.Onset && x.addresses[n].Grace == a.Grace {
		out += worthOnset
		if x.addresses[n].Ordinal == a.Ordinal {
			out++
		}
	}
	far := note.Measure - a.Measure
	out += max(worthNear-4*max(far, -far), 0)
	if c.Printed != "" && c.Printed == here.Printed {
		out += worthPrinted
	}
	if c.Staff == here.Staff {
		out += worthStaff
	}
	return min(out, 1000)
}

// inCommon is the share, in thousandths, of the longer of two rows that their
// longest common row has; two empty rows agree.
func inCommon(x, y []int) int {
	if len(x) == 0 && len(y) == 0 {
		return 1000
	}
	var table [neighboursKept*3 + 1][neighboursKept*3 + 1]int
	x, y = x[:min(len(x), neighboursKept*3)], y[:min(len(y), neighboursKept*3)]
	for i := range x {
		for j := range y {
			if x[i] == y[j] {
				table[i+1][j+1] = table[i][j] + 1
			} else {
				table[i+1][j+1] = max(table[i][j+1], table[i+1][j])
			}
		}
	}
	return 1000 * table[len(x)][len(y)] / max(len(x), len(y))
}
