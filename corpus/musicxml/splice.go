package musicxml

import (
	"fmt"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

// SpliceOptions choose between the ways the format has.
type SpliceOptions = score.SpliceOptions

// Splice and TakeOut of a layout are those of its document.
func (l *Layout) Splice(doc *source.Document, m score.Marking, o score.SpliceOptions) ([]source.Edit, error) {
	return Splice(doc, l, m, o)
}

// TakeOut takes digits out of the document.
func (l *Layout) TakeOut(doc *source.Document, digits [][]bool) []source.Edit {
	return TakeOut(doc, l, digits)
}

// TakeOutDigits takes out the digits alone.
func (l *Layout) TakeOutDigits(doc *source.Document, digits [][]bool) []source.Edit {
	return TakeOutDigits(doc, l, digits)
}

// splicer turns marks into edits.
type splicer struct {
	xmltree.Text
	layout *Layout
	opts   SpliceOptions
	edits  []source.Edit
}

// Splice turns a marking into edits of the document's text, sorted by offset.
// Nothing but fingerings, the elements that hold them, hand signs, hand
// brackets, signs of rolled chords, our own miscellaneous fields and the legend is added, and of what
// stands there only the looks of a fingering change; and, where a mark says so,
// the staff a note stands on.
func Splice(doc *source.Document, layout *Layout, marking score.Marking, opts SpliceOptions) ([]source.Edit, error) {
	s := &splicer{Text: xmltree.TextOf(doc.Text), layout: layout, opts: opts}
	s.fields(marking.Fields)
	if len(marking.Fields) > 0 { // else a mend, which says nothing of the edition
		s.legend(marking.Legend)
	}
	for _, m := range marking.Marks {
		if m.Note < 0 || m.Note >= len(layout.notes) {
			return nil, fmt.Errorf("marking %s: there is no note %d", doc.Name, m.Note)
		}
		lay := &layout.notes[m.Note]
		if lay.note.SelfClosing() {
			return nil, fmt.Errorf("marking %s: note %d is an empty element and takes no mark", doc.Name, m.Note)
		}
		for _, d := range m.Directions {
			s.direction(lay, d)
		}
		if m.Staff > 0 {
			s.move(lay, m)
		}
		s.notations(lay, m) // an alternative goes before a digit that stands, whatever becomes of that
		if err := s.standing(lay, m); err != nil {
			return nil, fmt.Errorf("marking %s: %w", doc.Name, err)
		}
	}
	source.Sort(s.edits)
	return s.edits, nil
}

func (s *splicer) insert(at int32, text string) {
	s.edits = append(s.edits, source.Edit{Offset: int(at), New: text})
}

func (s *splicer) replace(at xmltree.Span, text string) {
	s.edits = append(s.edits, source.Edit{Offset: int(at.Start), Old: s.Text.Text[at.Start:at.End], New: text})
}

func fingeringTags(digits []score.MarkDigit) []string {
	out := make([]string, len(digits))
	for i, d := range digits {
		var b strings.Builder
		b.WriteString("<fingering")
		if d.Substitution {
			b.WriteString(` substitution="yes"`)
		}
		if d.Alternate {
			b.WriteString(` alternate="yes"`)
		}
		xmltree.WriteAttributes(&b, styleAttributes(d.Style, d.Placement, false))
		b.WriteString(">" + xmltree.Escape(d.Enclosed()) + "</fingering>")
		out[i] = b.String()
	}
	return out
}

// styleAttributes spells a style. When an indication is restyled, upright and
// regular are said where something else stood.
func styleAttributes(style score.Style, side score.Placement, restyle bool) []xmltree.Attribute {
	var out []xmltree.Attribute
	add := func(name, value string) { out = append(out, xmltree.Attribute{Name: name, Value: value}) }
	if side != score.PlacementUnset {
		add("placement", side.String())
	}
	switch {
	case style.Italic:
		add("font-style", "italic")
	case restyle:
		add("font-style", "")
	}
	switch {
	case style.Bold:
		add("font-weight", "bold")
	case restyle:
		add("font-weight", "")
	}
	if style.Size != "" {
		add("font-size", style.Size)
	}
	if style.Colour != "" {
		add("color", style.Colour)
	}
	return out
}

// direction adds a hand sign or the end of a hand bracket at a note.
func (s *splicer) direction(lay *noteLayout, d score.MarkDirection) {
	head := s.layout.notes[lay.chordHead].note
	outer, inner := s.Indent(head.Start), s.ChildIndent(head)
	deep := xmltree.Deeper(outer, inner)
	var b strings.Builder
	b.WriteString("<direction")
	if d.Placement != score.PlacementUnset {
		fmt.Fprintf(&b, ` placement="%s"`, d.Placement)
	}
	b.WriteString(">" + inner + "<direction-type>" + deep)
	switch d.Kind {
	case score.MarkSign, score.MarkRollWords:
		b.WriteString("<words")
		xmltree.WriteAttributes(&b, styleAttributes(d.Style, score.PlacementUnset, false))
		b.WriteString(">" + xmltree.Escape(d.Text) + "</words>")
	default:
		kind, hook := "start", "down"
		if d.Kind == score.MarkBracketStop {
			kind = "stop"
		}
		if d.HookUp {
			hook = "up"
		}
		fmt.Fprintf(&b, `<bracket type="%s" number="%d" line-end="%s" line-type="dashed"/>`, kind, max(d.Number, 1), hook)
	}
	b.WriteString(inner + "</direction-type>")
	if d.Voice != "" {
		b.WriteString(inner + "<voice>" + xmltree.Escape(d.Voice) + "</voice>")
	}
	if d.Staff > 0 {
		b.WriteString(inner + "<staff>" + strconv.Itoa(d.Staff) + "</staff>")
	}
	b.WriteString(outer + "</direction>")
	if d.Kind == score.MarkBracketStop {
		s.insert(s.chordEnd(lay), outer+b.String())
	} else {
		s.insert(head.Start, b.String()+outer)
	}
}

// chordEnd is where the last note of a note's chord ends: nothing comes
// between the notes of a chord.
func (s *splicer) chordEnd(lay *noteLayout) int32 {
	end := lay.note.End
	for k := lay.chordHead; int(k) < len(s.layout.notes) && s.layout.notes[k].chordHead == lay.chordHead; k++ {
		end = max(end, s.layout.notes[k].note.End)
	}
	return end
}
