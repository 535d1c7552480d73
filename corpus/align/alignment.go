package align

import "fingerproof/corpus/score"

// Options say what of the two scores is compared. The zero value takes the
// keyboard parts of each score, or all parts where a score names none.
type Options struct {
	PartsA, PartsB []int // indices in Score.Parts
	// Measures is an alignment of other parts of the same scores, whose measures
	// side by side hold here too. Nil finds them by the music.
	Measures *Alignment
}

// Alignment says which note and which measure of A is which of B. Only pitched
// notes of the compared parts take part, cue and hidden notes included (so
// that a cue note an exporter prints large still finds itself); everything
// else maps to -1.
type Alignment struct {
	A, B *score.Score
	// ToB has an entry for each note of A (index in B.Notes or -1), ToA the
	// reverse. The two are always each other's inverse.
	ToB, ToA []int
	// Kinds has an entry for each note of A: how it differs from its note in B.
	Kinds []Kind
	// InA and InB say which notes take part.
	InA, InB []bool
	// CoverB gives, for a note of A that has no note of its own in B, the note
	// of B that sounds there all the same: a tie was split or merged, a unison
	// has one stem instead of two, or a repeat is written out. -1 otherwise.
	// CoverA is the reverse.
	CoverB, CoverA []int
	// Spans are the measures side by side, in order; each measure of either
	// score stands in exactly one span.
	Spans []Span
	// SpanOfA and SpanOfB give the span of each measure.
	SpanOfA, SpanOfB []int
	// Copies are repeats written out: measures of one score whose music stands
	// once more, under a repeat sign, in the other.
	Copies []Copy
	// StaffToB is the staff of B that most notes of each staff of A (from 1)
	// stand on: 2, 1 where the staves were swapped. Index 0 is unused.
	StaffToB []int
}

// Span is a run of measures of A beside a run of measures of B. Both runs hold
// one measure as a rule; more where the barring differs; one is empty for a
// missing or an inserted measure.
type Span struct {
	A, B Range
	// Likeness of the music from 0 to 1000; 0 for a missing or inserted measure.
	Likeness int
	// Shift is to be added to a place in A's run, counted from its first
	// barline, to find the place in B's: not zero where one score writes a
	// pickup as a full measure with rests.
	Shift score.Fraction
}

// Paired reports whether both scores have the measures.
func (s Span) Paired() bool { return s.A.Len() > 0 && s.B.Len() > 0 }

// Range is measures From up to but not including To.
type Range struct{ From, To int }

// Len is the number of measures.
func (r Range) Len() int { return r.To - r.From }

// Copy is a repeat written out: Again, in one score, has the music of Once, in
// the other, where Once was already paired with an earlier or later run.
type Copy struct {
	InB         bool // Again is in B and Once in A; otherwise the reverse
	Once, Again Range
	// Signed says that a repeat sign or ending around Once accounts for the copy.
	Signed bool
	// Notes pairs each note of Again (first) with its note of Once (second).
	Notes [][2]int
}

// Kind is a set of ways in which a note differs from its counterpart.
type Kind uint16

// The ways. Zero means the same note in every respect listed here.
const (
	Respelled    Kind = 1 << iota // same key, other name: F# and Gb
	OctaveMoved                   // same name, other octave
	PitchChanged                  // another key that is no octave
	OnsetMoved                    // struck earlier or later
	DurationChanged
	TieChanged   // struck in one, held over in the other
	GraceChanged // grace note in one, full note in the other
	StaffChanged // stands on another staff than its neighbours lead one to expect
	SizeChanged  // cue size or hidden in one only
)

// Has reports whether all ways in w apply.
func (k Kind) Has(w Kind) bool { return k&w == w }

var kindNames = [...]string{
	"respelled", "octave moved", "pitch changed", "onset moved", "duration changed", "tie changed", "grace changed",
	"staff changed", "size changed",
}

// String lists the ways in words, "same" for none.
func (k Kind) String() string {
	if k == 0 {
		return "same"
	}
	out := ""
	for i, name := range kindNames {
		if k&(1<<i) == 0 {
			continue
		}
		if out != "" {
			out += ", "
		}
		out += name
	}
	return out
}

// Coverage is the share, in thousandths of a per cent (100000 = all), of the
// struck notes of both scores that found their counterpart; cue and hidden
// notes are not counted.
func (al *Alignment) Coverage() int {
	found, all := 0, 0
	count := func(s *score.Score, in []bool, to, cover []int) {
		for i := range s.Notes {
			n := &s.Notes[i]
			if !in[i] || !n.Struck() || n.Cue || n.Hidden {
				continue
			}
			all++
			if to[i] >= 0 || cover[i] >= 0 {
				found++
			}
		}
	}
	count(al.A, al.InA, al.ToB, al.CoverB)
	count(al.B, al.InB, al.ToA, al.CoverA)
	if all == 0 {
		return 100000
	}
	return int(int64(found) * 100000 / int64(all))
}

// MeasureToB returns the measure of B beside a measure of A, or -1. In a
// re-barred span it is the measure in which A's measure begins.
func (al *Alignment) MeasureToB(a int) int {
	return across(al.A, al.B, al.Spans[al.SpanOfA[a]], a, false)
}

// MeasureToA is the reverse of MeasureToB.
func (al *Alignment) MeasureToA(b int) int {
	return across(al.B, al.A, al.Spans[al.SpanOfB[b]], b, true)
}

func across(from, to *score.Score, span Span, measure int, reverse bool) int {
	here, there, shift := span.A, span.B, span.Shift
	if reverse {
		here, there = there, here
		shift = score.Fraction{}.Sub(shift)
	}
	if there.Len() == 0 {
		return -1
	}
	if here.Len() == 1 || there.Len() == 1 {
		return there.From
	}
	offset := from.Measures[measure].Start.Sub(from.Measures[here.From].Start).Add(shift)
	at := to.Measures[there.From].Start.Add(offset)
	found := there.From
	for m := there.From; m < there.To; m++ {
		if !at.Less(to.Measures[m].Start) {
			found = m
		}
	}
	return found
}

// MomentToB carries a moment of A (measure index, onset in it) to B. False
// where the measure has no counterpart.
func (al *Alignment) MomentToB(measure int, onset score.Fraction) (int, score.Fraction, bool) {
	return carry(al.A, al.B, al.Spans[al.SpanOfA[measure]], measure, onset, false)
}

// MomentToA is the reverse of MomentToB.
func (al *Alignment) MomentToA(measure int, onset score.Fraction) (int, score.Fraction, bool) {
	return carry(al.B, al.A, al.Spans[al.SpanOfB[measure]], measure, onset, true)
}

func carry(
	from, to *score.Score, span Span, measure int, onset score.Fraction, reverse bool,
) (int, score.Fraction, bool) {
	here, there, shift := span.A, span.B, span.Shift
	if reverse {
		here, there = there, here
		shift = score.Fraction{}.Sub(shift)
	}
	if there.Len() == 0 {
		return -1, score.Fraction{}, false
	}
	at := from.Measures[measure].Start.Sub(from.Measures[here.From].Start).Add(onset).Add(shift)
	at = at.Add(to.Measures[there.From].Start)
	m := there.From
	for m+1 < there.To && !at.Less(to.Measures[m+1].Start) {
		m++
	}
	return m, at.Sub(to.Measures[m].Start), true
}
