package musicxml

import (
	"encoding/xml"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// partReader walks one part, measure by measure.
type partReader struct {
	*reader
	part      int
	divisions int64
	divided   bool // the file has said the divisions
	metre     metre
	transpose map[int]int // semitones by staff; 0 holds for all
	// staffHidden are the staves that do not print from here on.
	staffHidden map[int]bool
	measure     int

	at        score.Fraction // where the next note begins
	end       score.Fraction // the farthest reached in this measure
	chordHead int            // index of the last note that is not in a chord, -1 after a jump
	ends      staffEnds
	graces    map[string]*graceRun
	firstNote int // of this measure
	stretch   int // notes of one voice without a jump in time share a number
	beams     map[string]int
	beamCount int

	openBeams map[string]beamAt   // by voice, those of grace notes apart
	openSigns map[string]beamAt   // glissandos and tremolos, by their names and numbers or voices
	syllables map[string]syllable // the last of each verse of each voice

	tuplets map[string]int // signs of tuplets that are open, by their numbers: the note at which each begins
	// tupletEnds are the first and the last note of each sign of a tuplet that ends in the measure.
	tupletEnds [][2]int
	segments   []segment // of the measure: what is written without going back
	from       int       // the first note of the segment that is being read

	endings      []int
	closeEnding  bool
	hiddenEnding *score.Item // one whose bracket is not shown, and that is open; nil for none
	declared     int         // how many staves the file says that the part has, 0 where it says nothing
	page, system int
}

// graceRun is a row of grace notes of one voice that waits for the note it
// leans on.
type graceRun struct{ notes []int }

// measureLength is what one part plays in one measure.
type measureLength struct {
	part, measure, line int
	length              score.Fraction
	staff               int            // one that ends before the measure, 0 for none
	staffEnd            score.Fraction // where it ends
}

// newPart begins the part of an id; at is where it stands.
func (r *reader) newPart(id string, at int) (*partReader, error) {
	index, known := r.listed[id]
	if !known {
		return nil, r.scan.Fault(at, fmt.Sprintf("part %q is not in the list of parts", id), "")
	}
	if r.seen[id] {
		return nil, r.scan.Fault(at, fmt.Sprintf("part %q stands in the score twice", id), "")
	}
	r.seen[id] = true
	return &partReader{
		reader: r, part: index, divisions: 1, transpose: map[int]int{}, beams: map[string]int{},
		openBeams: map[string]beamAt{}, openSigns: map[string]beamAt{}, syllables: map[string]syllable{}, page: 1, system: 1,
	}, nil
}

func (r *reader) part(start xml.StartElement) error {
	p, err := r.newPart(attr(start, "id"), r.scan.Start)
	if err != nil {
		return err
	}
	for {
		t, err := r.scan.Token()
		if err != nil {
			return unexpectedEnd(err)
		}
		switch t := t.(type) {
		case xml.EndElement:
			p.closeBeams()
			return nil
		case xml.StartElement:
			if xmltree.FullName(t.Name) != "measure" {
				return r.scan.Fault(r.scan.Start, fmt.Sprintf("<%s> stands where a measure should", xmltree.FullName(t.Name)), "")
			}
			if err := p.mayHaveMeasure(r.scan.Start); err != nil {
				return err
			}
			if err := p.readMeasure(t); err != nil {
				return err
			}
			p.measure++
		}
	}
}

// mayHaveMeasure refuses a measure beyond the limit.
func (p *partReader) mayHaveMeasure(at int) error {
	if p.measure < p.limits.Measures {
		return nil
	}
	return p.scan.Fault(at, fmt.Sprintf("a part has more than %d measures", p.limits.Measures), "")
}

func (p *partReader) readMeasure(start xml.StartElement) error {
	line := p.place(int32(p.scan.Start)).Line
	p.openMeasure(attr(start, "number"), attr(start, "implicit") == "yes")
	for {
		t, err := p.scan.Token()
		if err != nil {
			return unexpectedEnd(err)
		}
		switch t := t.(type) {
		case xml.EndElement:
			p.closeMeasure(line)
			return p.checkCrowd()
		case xml.StartElement:
			p.scan.Reset()
			e, err := p.scan.Tree(t)
			if err != nil {
				return err
			}
			if err := p.measureChild(e); err != nil {
				return err
			}
		}
	}
}

func (p *partReader) openMeasure(number string, implicit bool) {
	p.at, p.end, p.chordHead = score.Fraction{}, score.Fraction{}, -1
	p.graces, p.ends = map[string]*graceRun{}, staffEnds{last: 1}
	p.firstNote = len(p.score.Notes)
	p.tuplets, p.segments, p.from = map[string]int{}, nil, p.firstNote
	p.stretch++
	if p.measure == len(p.score.Measures) {
		m := score.Measure{Index: p.measure, Number: number, Implicit: implicit}
		if p.measure > 0 {
			m.Fifths = p.score.Measures[p.measure-1].Fifths
		}
		p.score.Measures = append(p.score.Measures, m)
		p.lengths = append(p.lengths, score.Fraction{})
	} else if m := &p.score.Measures[p.measure]; m.Number != number {
		p.numbers = append(p.numbers, score.Oddity{
			Kind: score.OddNumber, Note: -1, Part: p.part, Measure: p.measure,
			Detail: fmt.Sprintf("the measure has the number %.20q here and %.20q in the part %q", number, m.Number, p.score.Parts[0].Name),
		})
	}
}

func (p *partReader) measureChild(e *xmltree.Element) error {
	if e.Name != "note" { // a note's words are checked when it is known which note it is
		p.checkWords(e, -1)
	}
	switch e.Name {
	case "note":
		return p.note(e)
	case "attributes", "direction", "barline", "harmony", "figured-bass":
		at := p.here(score.ItemFurther, "", p.place(e.Span.Start).Line)
		at.Staff = max(atoi(e.ChildText("staff")), 1)
		p.furtherIn(e, at)
	}
	switch e.Name {
	case "backup":
		p.move(e, -1)
	case "forward":
		p.move(e, 1)
	case "attributes":
		p.attributeItems(e)
		p.attributes(e)
	case "direction":
		p.direction(e)
	case "sound":
		p.sound(e, p.at, 0, p.place(e.Span.Start), true)
	case "barline":
		p.barline(e)
		p.barlineItems(e)
	case "print":
		p.print(e)
		p.printItems(e)
	case "harmony":
		p.harmonyItem(e)
	case "figured-bass":
		p.figuresItem(e)
	}
	return nil
}

// move follows backup and forward. What leads out of the measure at its
// beginning is held there and noted.
func (p *partReader) move(e *xmltree.Element, sign int64) {
	d := score.Fraction{}
	if c := e.Child("duration"); c != nil {
		d = p.duration(c, -1)
	}
	if sign < 0 {
		p.endSegment()
		p.stretch++
		to := p.at.Sub(d)
		if to.Sign() < 0 {
			p.odd(score.OddBackup, -1, p.part, p.measure, p.place(e.Span.Start).Line, "a backup goes back beyond the beginning of the measure; it is taken to the beginning")
			to = score.Fraction{}
		}
		p.at = to
	} else {
		p.at = p.at.Add(d)
		p.end = score.Max(p.end, p.at)
		p.ends.forward(atoi(e.ChildText("staff")), p.at)
	}
	p.chordHead = -1
}

// longest is how many quarters no note and no rest of notated music lasts: more than three times the longest of note
// values, the maxima.
var longest = score.Whole(100)

// duration reads a duration in quarters, of a note or (-1) of a step to and fro. One that cannot be read is zero and
// noted; one beyond all music is noted and kept.
func (p *partReader) duration(c *xmltree.Element, note int) score.Fraction {
	d, ok := Duration(c.Trimmed(), p.divisions)
	if !ok {
		p.unreadable(note, c, "the duration", "it counts as none")
		return score.Fraction{}
	}
	if longest.Less(d) {
		p.odd(score.OddValue, note, p.part, p.measure, p.place(c.Span.Start).Line,
			"the duration %.40q would be %s, which no note lasts; it is kept", c.Trimmed(), quarters(d))
	}
	return d
}

// Duration reads a duration in quarters; false for what is none.
func Duration(text string, divisions int64) (score.Fraction, bool) {
	// A file that counts in hundred millions needs ten digits for a few quarters.
	d, ok := parseDigits(text, 12)
	d = d.Mul(score.Frac(1, divisions))
	return d, ok && d.Sign() >= 0 && !score.Whole(999_999_999).Less(d)
}

// parseDecimal reads a decimal number exactly, as long as it is of a sane size.
func parseDecimal(s string) (score.Fraction, bool) { return parseDigits(s, 9) }

// parseDigits is parseDecimal with at most so many digits before the point.
func parseDigits(s string, most int) (score.Fraction, bool) {
	whole, part, dotted := strings.Cut(s, ".")
	if len(whole) > most || len(part) > 6 {
		return score.Fraction{}, false
	}
	den := int64(1)
	if dotted {
		for range part {
			den *= 10
		}
	}
	n, err := strconv.ParseInt(whole+part, 10, 64)
	if err != nil {
		return score.Fraction{}, false
	}
	return score.Frac(n, den), true
}

func (p *partReader) closeMeasure(line int) {
	for _, g := range p.graces { // each run touches its own notes only: any order will do
		p.afterNotes(g)
	}
	m := &p.score.Measures[p.measure]
	if m.Nominal.Sign() == 0 {
		p.metre.apply(m)
	}
	if p.end.Cmp(p.lengths[p.measure]) > 0 {
		p.lengths[p.measure] = p.end
	}
	if m.Page == 0 {
		m.Page, m.System = p.page, p.system
	}
	if len(p.endings) > 0 && len(m.Endings) == 0 {
		m.Endings = slices.Clone(p.endings)
	}
	p.openTuplets()
	p.endSegment()
	p.voiceEnds()
	staff, end := p.ends.short(p.end)
	p.played = append(p.played, measureLength{part: p.part, measure: p.measure, length: p.end, line: line, staff: staff, staffEnd: end})
	if p.closeEnding || m.Repeat.Backward { // a bracket that is not closed goes to the repeat at most
		p.endings, p.closeEnding = nil, false
	}
}

// checkCrowd refuses a measure with more voices, or more notes that begin together, than any music has: what is worked
// out of a moment grows faster than its notes.
func (p *partReader) checkCrowd() error {
	type moment struct {
		onset score.Fraction
		grace int
		after bool
	}
	if len(p.score.Notes)-p.firstNote <= min(p.limits.Voices, p.limits.AtOnce) { // so few cannot be too many
		return nil
	}
	together, voices := map[moment]int{}, map[string]bool{}
	for i := p.firstNote; i < len(p.score.Notes); i++ {
		n := &p.score.Notes[i]
		refuse := func(format string, args ...any) error {
			return p.scan.Fault(int(p.layout.notes[i].note.Start), fmt.Sprintf(format, args...)+fmt.Sprintf(
				" (m. %s of the part %q)", p.score.Measures[p.measure].Number, p.score.Parts[p.part].ID),
				"no piano music has so many; was the score exported whole?")
		}
		if voices[n.Voice] = true; len(voices) > p.limits.Voices {
			return refuse("more than %d voices are in this measure", p.limits.Voices)
		}
		if n.Kind != score.Pitched {
			continue
		}
		m := moment{n.Onset, n.Grace, n.GraceAfter}
		if together[m]++; together[m] > p.limits.AtOnce {
			return refuse("more than %d notes begin together here", p.limits.AtOnce)
		}
	}
	return nil
}

func (p *partReader) print(e *xmltree.Element) {
	if e.Attribute("new-page") == "yes" {
		p.page++
		p.system = 1
	} else if e.Attribute("new-system") == "yes" {
		p.system++
	}
}

func (p *partReader) barline(e *xmltree.Element) {
	m := &p.score.Measures[p.measure]
	for c := e.First; c != nil; c = c.Next {
		switch c.Name {
		case "repeat":
			if c.Attribute("direction") == "forward" {
				m.Repeat.Forward = true
			} else {
				m.Repeat.Backward = true
				m.Repeat.Times = max(atoi(c.Attribute("times")), 2)
			}
		case "ending":
			switch c.Attribute("type") {
			case "start":
				p.endings = endingNumbers(c.Attribute("number"))
				if len(p.endings) == 0 {
					p.odd(score.OddValue, -1, p.part, p.measure, p.place(c.Span.Start).Line,
						"the number %.40q of an ending cannot be read; the measure counts as in none", c.Attribute("number"))
				}
			default:
				p.closeEnding = true
			}
		}
	}
}

// endingNumbers reads "1, 2". No score has more endings than this keeps.
func endingNumbers(s string) []int {
	const most = 32
	var out []int
	for _, w := range strings.FieldsFunc(s, func(c rune) bool { return c < '0' || c > '9' }) {
		if n := atoi(w); n > 0 && n < 100 && len(out) < most {
			out = append(out, n)
		}
	}
	return out
}

func atoi(s string) int {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil || n > 1<<30 || n < -1<<30 {
		return 0
	}
	return n
}
