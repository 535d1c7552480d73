package compare

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
)

// measures tells missing, added and re-barred measures and repeats written out.
func (c *comparison) measures() {
	c.inCopies = map[sided]bool{}
	for _, copied := range c.al.Copies {
		if !copied.Signed {
			continue
		}
		v, other := c.a, c.b
		if copied.InB {
			v, other = c.b, c.a
		}
		for m := copied.Again.From; m < copied.Again.To; m++ {
			c.inCopies[sided{copied.InB, m}] = true
		}
		words := fmt.Sprintf("%s again, of %s", measuresWords(v.score, copied.Again),
			measuresWords(other.score, copied.Once))
		if copied.InB {
			c.atMoment(RepeatWrittenOut, nil, v.moment(copied.Again.From, score.Fraction{}), "", words)
		} else {
			c.atMoment(RepeatWrittenOut, v.moment(copied.Again.From, score.Fraction{}), nil, words, "")
		}
	}
	for _, s := range c.al.Spans {
		switch {
		case s.B.Len() == 0:
			for m := s.A.From; m < s.A.To; m++ {
				if !c.inCopies[sided{false, m}] {
					c.atMoment(MeasureMissing, c.a.moment(m, score.Fraction{}), nil, c.a.content(m), "")
				}
			}
		case s.A.Len() == 0:
			for m := s.B.From; m < s.B.To; m++ {
				if !c.inCopies[sided{true, m}] {
					c.atMoment(MeasureAdded, nil, c.b.moment(m, score.Fraction{}), "", c.b.content(m))
				}
			}
		case s.A.Len() > 1 || s.B.Len() > 1:
			c.atMoment(Barring, c.a.moment(s.A.From, score.Fraction{}), c.b.moment(s.B.From, score.Fraction{}),
				barsWords(c.a.score, s.A), barsWords(c.b.score, s.B))
		}
	}
}

func measuresWords(s *score.Score, r align.Range) string {
	return s.MeasureRange(r.From, r.To-1)
}

// barsWords names measures with their lengths: "mm. 6–7 of 2 and 4 quarters".
func barsWords(s *score.Score, r align.Range) string {
	out := measuresWords(s, r) + " of "
	for i := r.From; i < r.To; i++ {
		switch {
		case i > r.From && i == r.To-1:
			out += " and "
		case i > r.From:
			out += ", "
		}
		out += s.Measures[i].Length.String()
	}
	return out + " quarters"
}

// content says how much a measure holds: "12 notes, 3 digits", "rests".
func (v *view) content(measure int) string {
	notes, digits := 0, 0
	for i := range v.score.Notes {
		if n := &v.score.Notes[i]; n.Measure == measure && v.in[i] {
			notes++
			digits += len(n.Indications)
		}
	}
	switch {
	case notes == 0:
		return "rests"
	case digits == 0:
		return wording.Count(notes, "note")
	}
	return wording.Count(notes, "note") + ", " + wording.Count(digits, "digit")
}

// withoutStrangers takes pairs apart that share neither key nor staff: what
// goes from one hand in one octave to the other hand in another is no note
// that was misprinted, but one that is missing and one that came.
func (c *comparison) withoutStrangers(al *align.Alignment) *align.Alignment {
	out := *al
	out.ToB, out.ToA, out.Kinds = slices.Clone(al.ToB), slices.Clone(al.ToA), slices.Clone(al.Kinds)
	for a, b := range al.ToB {
		if b < 0 || !al.Kinds[a].Has(align.OctaveMoved) && !al.Kinds[a].Has(align.PitchChanged) {
			continue
		}
		m, n := &c.a.score.Notes[a], &c.b.score.Notes[b]
		if staff := c.staffToB(m.Part, m.Staff); staff != 0 && staff != c.b.staves.of(n.Part, n.Staff) {
			out.ToB[a], out.ToA[b], out.Kinds[a] = -1, -1, 0
		}
	}
	return &out
}

// notes tells missing and added notes and what differs between paired ones.
func (c *comparison) notes() {
	c.alone(c.a, c.al.ToB, c.al.CoverB, c.al.SpanOfA, false)
	c.alone(c.b, c.al.ToA, c.al.CoverA, c.al.SpanOfB, true)
	for a := range c.a.score.Notes {
		if b := c.al.ToB[a]; b >= 0 {
			c.paired(a, b)
		}
	}
}

func (c *comparison) alone(v *view, to, cover, spanOf []int, inB bool) {
	for i := range v.score.Notes {
		n := &v.score.Notes[i]
		if !v.in[i] || to[i] >= 0 || v.silent(i) || !c.al.Spans[spanOf[n.Measure]].Paired() {
			continue
		}
		if n.TiedFrom >= 0 {
			continue // goes with the note that is struck: named there, as missing or as of another duration
		}
		kind, what := NoteMissing, v.describe(i)
		if inB {
			kind = NoteAdded
		}
		if cover[i] >= 0 {
			kind = Unison
		}
		if inB {
			c.at(kind, -1, i, "", what)
		} else {
			c.at(kind, i, -1, what, "")
		}
	}
}

// describe names a note with its digits: "C5, quarter note, digit 3".
func (v *view) describe(i int) string {
	n := &v.score.Notes[i]
	out := n.Pitch.String() + ", " + v.sounding(i)
	if r := readingOf(n); len(r) > 0 {
		out += ", digit " + r.String()
	}
	return out
}

func (c *comparison) paired(a, b int) {
	m, n := &c.a.score.Notes[a], &c.b.score.Notes[b]
	k := c.al.Kinds[a]
	if c.a.silent(a) && c.b.silent(b) {
		return
	}
	if k.Has(align.SizeChanged) {
		c.at(NoteSize, a, b, sizeWords(m), sizeWords(n))
	}
	// What befalls the struck note befalls its tied continuation: named once.
	head := m.TiedFrom >= 0 && n.TiedFrom >= 0 && c.al.ToB[m.TiedFrom] == n.TiedFrom
	same := func(w align.Kind) bool { return head && c.al.Kinds[m.TiedFrom].Has(w) }
	switch {
	case k.Has(align.PitchChanged) && !same(align.PitchChanged):
		c.at(Pitch, a, b, m.Pitch.String(), n.Pitch.String())
	case k.Has(align.OctaveMoved) && !same(align.OctaveMoved):
		c.at(Octave, a, b, m.Pitch.String(), n.Pitch.String())
	case k.Has(align.Respelled) && !same(align.Respelled):
		c.at(Spelling, a, b, m.Pitch.String(), n.Pitch.String())
	}
	if k.Has(align.OnsetMoved) && !same(align.OnsetMoved) {
		c.at(Onset, a, b, beatWords(c.a, a), beatWords(c.b, b))
	}
	if c.graceMoved(a, b) {
		c.at(Onset, a, b, "before "+beatWords(c.a, a), "before "+beatWords(c.b, b))
	}
	if k.Has(align.GraceChanged) {
		c.at(GraceSize, a, b, durationWords(m), durationWords(n))
	}
	if k.Has(align.DurationChanged) {
		c.at(Duration, a, b, c.a.sounding(a), c.b.sounding(b))
	}
	if k.Has(align.TieChanged) {
		c.at(Tie, a, b, tieWords(m), tieWords(n))
	}
	if m.TiedTo >= 0 && n.TiedTo >= 0 && m.TieLook != n.TieLook {
		c.at(Tie, a, b, cmp.Or(m.TieLook, "full line"), cmp.Or(n.TieLook, "full line"))
	}
	if m.TiedTo >= 0 && n.TiedTo >= 0 {
		if x, y := c.a.tieUnseen(m), c.b.tieUnseen(n); x != y {
			c.at(Tie, a, b, tieShown[x], tieShown[y])
		}
	}
	c.tieMarks(a, b)
	c.print(a, b)
}

// tieShown says whether a tie that sounds stands on the page.
var tieShown = map[bool]string{false: "drawn", true: "sounding, and not drawn"}

// tieUnseen says that a tie is written for the ear at one end at least, and not for the page: it is not drawn from end to end.
func (v *view) tieUnseen(n *score.Note) bool {
	return n.TieUnseen[0] || v.score.Notes[n.TiedTo].TieUnseen[1]
}

// isGrace says that a note is written without a time of its own.
func isGrace(n *score.Note) bool { return n.Grace > 0 || n.GraceAfter }

// graceMoved reports that a grace note stands before another moment. One behind the note before it and one before the note
// after it stand at the same place.
func (c *comparison) graceMoved(a, b int) bool {
	m, n := &c.a.score.Notes[a], &c.b.score.Notes[b]
	if !isGrace(m) || !isGrace(n) {
		return false
	}
	x, known := c.timeInA(m.Measure, m.Onset, false)
	y, there := c.timeInB(n.Measure, n.Onset)
	if !known || !there {
		return false
	}
	return !(x.Sub(y).Less(leastMove) && y.Sub(x).Less(leastMove))
}

func sizeWords(n *score.Note) string {
	switch {
	case n.Hidden:
		return "hidden"
	case n.Cue:
		return "cue size"
	}
	return "full size"
}

func tieWords(n *score.Note) string {
	if n.TiedFrom >= 0 {
		return "tied"
	}
	return "struck"
}

func beatWords(v *view, n int) string {
	note := &v.score.Notes[n]
	return v.momentWords(note.Measure, note.Onset)
}

// mostTied is how many tied notes are named one by one.
const mostTied = 4

// sounding gives the duration of a struck note with the notes tied to it:
// "half note tied to quarter note".
func (v *view) sounding(n int) string {
	total, words := score.Fraction{}, []string{}
	notes := v.score.Notes
	for at := n; at >= 0 && len(words) <= len(notes); at = notes[at].TiedTo {
		total = total.Add(notes[at].Duration)
		words = append(words, durationWords(&notes[at]))
	}
	if len(words) > mostTied {
		return fmt.Sprintf("%d tied notes, %s in all", len(words), quarters(total))
	}
	return strings.Join(words, " tied to ")
}

// struck gives the note at the head of a row of tied notes.
func (v *view) struck(n int) int {
	notes := v.score.Notes
	for steps := 0; notes[n].TiedFrom >= 0 && steps < len(notes); steps++ {
		n = notes[n].TiedFrom
	}
	return n
}

// durationWords names a note value as a musician would, or its length in
// quarters where the file names none that fits.
func durationWords(n *score.Note) string {
	if n.Grace > 0 || n.GraceAfter {
		return "grace note"
	}
	if value, ok := n.Value(); ok && value == n.Duration {
		words := [...]string{"", "dotted ", "double-dotted ", "triple-dotted "}[min(n.Dots, 3)] + n.Type + " note"
		if n.Tuplet.Actual > 0 {
			words += fmt.Sprintf(" (%d:%d)", n.Tuplet.Actual, n.Tuplet.Normal)
		}
		return words
	}
	return quarters(n.Duration)
}

func quarters(f score.Fraction) string {
	if f == score.Whole(1) {
		return "1 quarter"
	}
	return f.String() + " quarters"
}
