package musicxml

import (
	"encoding/xml"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

// SpliceOptions choose between the ways the format has.
type SpliceOptions struct {
	// Level, where not empty, puts added digits into a <notations> of their
	// own that says so (<level>), the standard's way of keeping editorial
	// layers apart. Common importers then lose them (they read the first
	// <notations> only), so the default joins the layers.
	Level string
}

// splicer turns marks into edits.
type splicer struct {
	text   string
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
	s := &splicer{text: doc.Text, layout: layout, opts: opts}
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
		if err := s.standing(lay, m); err != nil {
			return nil, fmt.Errorf("marking %s: %w", doc.Name, err)
		}
		s.notations(lay, m)
	}
	source.Sort(s.edits)
	return s.edits, nil
}

func (s *splicer) insert(at int32, text string) {
	s.edits = append(s.edits, source.Edit{Offset: int(at), New: text})
}

func (s *splicer) replace(at xmltree.Span, text string) {
	s.edits = append(s.edits, source.Edit{Offset: int(at.Start), Old: s.text[at.Start:at.End], New: text})
}

// indent is the white space in front of an offset: the newline with what
// follows it, or "" where something else stands on the line.
func (s *splicer) indent(at int32) string {
	i := at
	for i > 0 && (s.text[i-1] == ' ' || s.text[i-1] == '\t') {
		i--
	}
	if i == 0 || s.text[i-1] != '\n' && s.text[i-1] != '\r' {
		return ""
	}
	return s.layout.newline + s.text[i:at]
}

// childIndent is the indentation of what stands inside an element: that of
// its first child, or a step deeper than its own.
func (s *splicer) childIndent(e xmltree.Span) string {
	if e.SelfClosing() {
		return s.indent(e.Start)
	}
	inside := s.text[e.OpenEnd:e.CloseStart]
	i := strings.IndexByte(inside, '<')
	if i < 0 {
		return s.indent(e.Start)
	}
	return s.indent(e.OpenEnd + int32(i))
}

// deeper adds one more step to an indentation, of the size of the step
// between two others.
func deeper(outer, inner string) string {
	if !strings.HasPrefix(inner, outer) {
		return inner
	}
	return inner + inner[len(outer):]
}

// contentEnd is where the last child of an element ends.
func (s *splicer) contentEnd(e xmltree.Span) int32 {
	at := e.CloseStart
	for at > e.OpenEnd && strings.IndexByte(" \t\r\n", s.text[at-1]) >= 0 {
		at--
	}
	return at
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
		writeAttributes(&b, styleAttributes(d.Style, d.Placement, false))
		b.WriteString(">" + escape(enclosed(d)) + "</fingering>")
		out[i] = b.String()
	}
	return out
}

func enclosed(d score.MarkDigit) string {
	switch d.Style.Enclosure {
	case score.Parentheses:
		return "(" + d.Text + ")"
	case score.Brackets:
		return "[" + d.Text + "]"
	}
	return d.Text
}

// attribute is a name and a value; an empty value takes the attribute away.
type attribute struct{ name, value string }

func writeAttributes(b *strings.Builder, attributes []attribute) {
	for _, a := range attributes {
		if a.value != "" {
			fmt.Fprintf(b, ` %s="%s"`, a.name, escape(a.value))
		}
	}
}

// styleAttributes spells a style. When an indication is restyled, upright and
// regular are said where something else stood.
func styleAttributes(style score.Style, side score.Placement, restyle bool) []attribute {
	var out []attribute
	add := func(name, value string) { out = append(out, attribute{name, value}) }
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

var tagAttribute = regexp.MustCompile(`\s+([\w:.-]+)\s*=\s*("[^"]*"|'[^']*')`)

// withAttribute sets, replaces or takes away one attribute of a tag.
func withAttribute(tag string, a attribute) string {
	for _, m := range tagAttribute.FindAllStringSubmatchIndex(tag, -1) {
		if tag[m[2]:m[3]] != a.name {
			continue
		}
		if a.value == "" {
			return tag[:m[0]] + tag[m[1]:]
		}
		if now := tag[m[4]+1 : m[5]-1]; now == escape(a.value) {
			return tag
		}
		return tag[:m[4]] + `"` + escape(a.value) + `"` + tag[m[5]:]
	}
	if a.value == "" {
		return tag
	}
	end := strings.TrimRight(strings.TrimSuffix(strings.TrimSuffix(tag, ">"), "/"), " \t\r\n")
	return end + fmt.Sprintf(` %s="%s"`, a.name, escape(a.value)) + tag[len(end):]
}

// direction adds a hand sign or the end of a hand bracket at a note.
func (s *splicer) direction(lay *noteLayout, d score.MarkDirection) {
	head := s.layout.notes[lay.chordHead].note
	outer, inner := s.indent(head.Start), s.childIndent(head)
	deep := deeper(outer, inner)
	var b strings.Builder
	b.WriteString("<direction")
	if d.Placement != score.PlacementUnset {
		fmt.Fprintf(&b, ` placement="%s"`, d.Placement)
	}
	b.WriteString(">" + inner + "<direction-type>" + deep)
	switch d.Kind {
	case score.MarkSign, score.MarkRollWords:
		b.WriteString("<words")
		writeAttributes(&b, styleAttributes(d.Style, score.PlacementUnset, false))
		b.WriteString(">" + escape(d.Text) + "</words>")
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
		b.WriteString(inner + "<voice>" + escape(d.Voice) + "</voice>")
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

func escape(s string) string {
	var b strings.Builder
	// A strings.Builder never fails to write.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}
