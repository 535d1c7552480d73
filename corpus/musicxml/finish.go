package musicxml

import (
	"cmp"
	"fmt"
	"regexp"
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
	r.signSlips()
	r.offTheKeyboard()
	r.bySigns()
	r.ossiaParts()
	r.addedRolls()
	chooseByWords(r.score)
	for _, p := range r.unplayed() {
		r.odd(score.OddMissingMeasure, -1, p, 0, r.listedAt[p], "the part %q is listed but has no music", r.score.Parts[p].ID)
	}
	slices.SortStableFunc(r.score.Oddities, func(a, b score.Oddity) int {
		return cmp.Or(cmp.Compare(a.Measure, b.Measure), cmp.Compare(a.Part, b.Part), cmp.Compare(a.Line, b.Line))
	})
}

// ossiaParts notes parts that are called an ossia, where their notes begin.
func (r *reader) ossiaParts() {
	said := map[int]bool{}
	for i := range r.score.Notes {
		n := &r.score.Notes[i]
		if part := &r.score.Parts[n.Part]; !said[n.Part] && n.Kind == score.Pitched && !part.Keyboard && ossia.MatchString(part.Name) {
			said[n.Part] = true
			r.odd(score.OddNoDigits, -1, n.Part, n.Measure, n.Line,
				"the part %.40q begins here: it is kept as it stands, not looked at, and gets no digits", part.Name)
		}
	}
}

var ossia = regexp.MustCompile(`(?i)\bossia\b`)

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
	var last voice
	var inVoice, inStretch *[staves]int
	for i := range r.score.Notes {
		n := &r.score.Notes[i]
		if k := (voice{n.Part, n.Voice}); i == 0 || k != last { // mostly notes of a voice stand side by side
			if last, inVoice = k, count[k]; inVoice == nil {
				inVoice = new([staves]int)
				count[k] = inVoice
			}
		}
		inVoice[n.Staff]++
		if s := r.stretches[i]; i == 0 || s != r.stretches[i-1] {
			if inStretch = perStretch[s]; inStretch == nil {
				inStretch = new([staves]int)
				perStretch[s] = inStretch
			}
		}
		inStretch[n.Staff]++
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
		if k := (voice{n.Part, n.Voice}); i == 0 || k != last {
			last, inVoice = k, count[k]
		}
		staff, notes, all := most(inVoice)
		if notes*10 < all*7 {
			staff, _, _ = most(perStretch[r.stretches[i]])
		}
		n.HomeStaff = staff
	}
}
