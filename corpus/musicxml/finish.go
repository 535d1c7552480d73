package musicxml

import (
	"cmp"
	"fmt"
	"slices"

	"fingerproof/corpus/score"
)

// finish works out what needs the whole document.
func (r *reader) finish() {
	r.keyboards()
	start := score.Fraction{}
	for i := range r.score.Measures {
		m := &r.score.Measures[i]
		m.Start, m.Length = start, r.lengths[i]
		if m.Length.Sign() == 0 {
			m.Length = m.Nominal
		}
		if m.Length.Sign() == 0 {
			m.Length = score.Whole(4)
		}
		start = start.Add(m.Length)
	}
	r.rightBarlines()
	r.homes()
	r.ties()
	r.measureLengths()
	r.offTheKeyboard()
	for _, p := range r.unplayed() {
		r.odd(score.OddMissingMeasure, -1, p, 0, r.listedAt[p], "the part %q is listed but has no music", r.score.Parts[p].ID)
	}
	slices.SortStableFunc(r.score.Oddities, func(a, b score.Oddity) int {
		return cmp.Or(cmp.Compare(a.Measure, b.Measure), cmp.Compare(a.Part, b.Part), cmp.Compare(a.Line, b.Line))
	})
}

// atMeasureEnd stands for the end of a measure until its length is known.
var atMeasureEnd = score.Whole(-1)

// rightBarlines puts what stands at a right barline at the end of its measure.
func (r *reader) rightBarlines() {
	for _, k := range r.atEnd {
		i := &r.score.Items[k]
		i.Onset = r.score.Measures[i.Measure].Length
	}
	for k := range r.lines {
		if end := &r.lines[k].end; end.Onset == atMeasureEnd {
			end.Onset = r.score.Measures[end.Measure].Length
		}
	}
	r.joinLines()
}

func (r *reader) unplayed() []int {
	var out []int
	for i, p := range r.score.Parts {
		if !r.seen[p.ID] {
			out = append(out, i)
		}
	}
	return out
}

// The keys of a modern piano, A0 to C8 (common knowledge of the trade).
const lowestKey, highestKey = 21, 108

// offTheKeyboard notes what no piano has a key for. It is kept as written.
func (r *reader) offTheKeyboard() {
	for i := range r.score.Notes {
		n := &r.score.Notes[i]
		if n.Kind == score.Pitched && r.score.Parts[n.Part].Keyboard && (n.Midi < lowestKey || n.Midi > highestKey) {
			r.odd(score.OddPitch, i, n.Part, n.Measure, n.Line, "%s lies beyond the piano's keys", n.Pitch)
		}
	}
}

// measureLengths notes measures that do not add up. Pickups, the measure that
// makes up for a pickup, measures split at a repeat or a double bar (together
// they are whole) and unmeasured ones are as they should be.
func (r *reader) measureLengths() {
	last := len(r.score.Measures) - 1
	noted := map[int]bool{}
	whole := func(i int, length score.Fraction) bool {
		return length == r.score.Measures[i].Nominal
	}
	for k, p := range r.played {
		m := &r.score.Measures[p.measure]
		if m.Nominal.Sign() == 0 || p.length.Sign() == 0 || noted[p.measure] || !r.score.Parts[p.part].Keyboard {
			continue
		}
		if whole(p.measure, p.length) {
			if p.staff > 0 {
				noted[p.measure] = true
				r.odd(score.OddMeasureLength, -1, p.part, p.measure, p.line, "the music of %s lasts %s, less than the %s of %s", staffName(p.staff, r.score.Parts[p.part].Staves), quarters(p.staffEnd), mixed(m.Nominal), m.Beats)
			}
			continue
		}
		short := p.length.Less(m.Nominal)
		if short && (m.Implicit || p.measure == 0 || p.measure == last) {
			continue
		}
		if short && r.splitMeasure(k) {
			continue
		}
		noted[p.measure] = true
		how := "less"
		if !short {
			how = "more"
		}
		r.odd(score.OddMeasureLength, -1, p.part, p.measure, p.line, "the music lasts %s, %s than the %s of %s", quarters(p.length), how, mixed(m.Nominal), m.Beats)
	}
}

// staffName names a staff of a part as musicians do.
func staffName(staff, of int) string {
	if of == 2 {
		return [...]string{"the upper staff", "the lower staff"}[staff-1]
	}
	return fmt.Sprintf("staff %d", staff)
}

// quarters says a length of music: "1 quarter", "2 1/2 quarters".
func quarters(f score.Fraction) string {
	if f == score.Whole(1) {
		return "1 quarter"
	}
	return mixed(f) + " quarters"
}

// mixed writes a fraction as people do: "3", "1/2", "1 1/2".
func mixed(f score.Fraction) string {
	whole := f.Num() / f.Den()
	rest := f.Sub(score.Whole(whole))
	switch {
	case rest.Sign() == 0:
		return fmt.Sprint(whole)
	case whole == 0:
		return rest.String()
	}
	return fmt.Sprintf("%d %s", whole, rest)
}

// splitMeasure reports whether a short measure and its neighbour make one
// whole measure.
func (r *reader) splitMeasure(k int) bool {
	p := r.played[k]
	nominal := r.score.Measures[p.measure].Nominal
	for _, j := range [2]int{k - 1, k + 1} {
		if j >= 0 && j < len(r.played) && r.played[j].part == p.part && p.length.Add(r.played[j].length) == nominal {
			return true
		}
	}
	return false
}

// homes gives each note the staff its voice lives on. A voice that keeps to
// one staff through the piece lives there; one that is used on both staves (many
// exporters number voices by staff, or reuse "1") lives where most of its
// notes of the stretch stand.
func (r *reader) homes() {
	type voice struct {
		part int
		name string
	}
	count := map[voice]*[staves]int{}
	perStretch := map[int32]*[staves]int{}
	for i := range r.score.Notes {
		n := &r.score.Notes[i]
		k := voice{n.Part, n.Voice}
		if count[k] == nil {
			count[k] = new([staves]int)
		}
		count[k][n.Staff]++
		s := r.stretches[i]
		if perStretch[s] == nil {
			perStretch[s] = new([staves]int)
		}
		perStretch[s][n.Staff]++
	}
	most := func(c *[staves]int) (staff, notes, all int) {
		for s, k := range c {
			all += k
			if k > notes {
				staff, notes = s, k
			}
		}
		return staff, notes, all
	}
	for i := range r.score.Notes {
		n := &r.score.Notes[i]
		staff, notes, all := most(count[voice{n.Part, n.Voice}])
		if notes*10 < all*7 {
			staff, _, _ = most(perStretch[r.stretches[i]])
		}
		n.HomeStaff = staff
	}
}
