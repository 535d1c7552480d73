package mei

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

// splicer turns marks into edits.
type splicer struct {
	xmltree.Text
	layout *Layout
	edits  []source.Edit
	// tags are open tags that change, by where they stand: several marks may ask for something of one.
	tags map[xmltree.Span]string
	// controls are what is added to a measure, in order, by measure.
	controls map[int][]string
	ids      map[xmltree.Span]string // that were given to elements without one
	ours     string                  // how an id of ours begins that no other here does
	count    int
	who      []agent             // whose digits were added, each once
	open     map[int]openBracket // hand brackets that wait for their end, by number
	rolls    map[int][]int       // notes of rolls, by number
	order    []int               // the numbers of rolls in order; those below 0 are of one chord
	looks    map[int]*score.MarkRoll
}

// openBracket is the beginning of a hand bracket.
type openBracket struct {
	note int
	d    score.MarkDirection
}

// Splice turns a marking into edits of the document's text, sorted by offset.
// Nothing but digits, hand signs, hand brackets, signs of rolled chords, those
// who are responsible, our own fields and the legend is added, and of what
// stands there only the looks and the side of a digit change; and, where a mark
// says so, the staff a note stands on. Notes that something stands at get an id
// where they have none.
func (l *Layout) Splice(doc *source.Document, marking score.Marking, _ score.SpliceOptions) ([]source.Edit, error) {
	s := &splicer{
		Text: xmltree.TextOf(doc.Text), layout: l, tags: map[xmltree.Span]string{}, controls: map[int][]string{},
		ids: map[xmltree.Span]string{}, ours: l.freePrefix(), open: map[int]openBracket{}, rolls: map[int][]int{},
		looks: map[int]*score.MarkRoll{},
	}
	for _, m := range marking.Marks {
		if err := s.mark(m); err != nil {
			return nil, fmt.Errorf("marking %s: %w", doc.Name, err)
		}
	}
	for _, number := range slices.Sorted(keysOf(s.open)) { // without an end
		o := s.open[number]
		s.bracket(o, o.note)
	}
	s.arpeggios()
	s.write()
	s.head(marking)
	source.Sort(s.edits)
	return s.edits, nil
}

func keysOf(m map[int]openBracket) func(func(int) bool) {
	return func(yield func(int) bool) {
		for k := range m { // sorted by the caller
			if !yield(k) {
				return
			}
		}
	}
}

// freePrefix is how ids of ours begin: so that none that stands there begins likewise.
func (l *Layout) freePrefix() string {
	prefix := idPrefix
	for n := 2; slices.ContainsFunc(l.ours, func(id string) bool { return strings.HasPrefix(id, prefix) && !l.declared(id) }); n++ {
		prefix = idPrefix + strconv.Itoa(n) + "-"
	}
	return prefix
}

// declared says of an id that it is one of those that declare who is responsible, which are taken up again.
func (l *Layout) declared(id string) bool {
	return slices.ContainsFunc(l.head.agents, func(a declaredAgent) bool { return a.id == id })
}

// mark writes what happens at one note.
func (s *splicer) mark(m score.Mark) error {
	if m.Note < 0 || m.Note >= len(s.layout.notes) {
		return fmt.Errorf("there is no note %d", m.Note)
	}
	lay := &s.layout.notes[m.Note]
	if m.Staff > 0 {
		if err := s.move(lay, m); err != nil {
			return err
		}
	}
	for _, d := range m.Directions {
		s.direction(lay, m.Note, d)
	}
	if err := s.standing(lay, m); err != nil {
		return err
	}
	if m.Roll != nil {
		number := m.Roll.Number
		if number == 0 {
			number = -1 - lay.group
		}
		if s.rolls[number] == nil {
			s.order, s.looks[number] = append(s.order, number), m.Roll
		}
		s.rolls[number] = append(s.rolls[number], m.Note)
	}
	s.digits(lay, m.Digits)
	return nil
}

// write puts what is added into the measures, and changes tags.
func (s *splicer) write() {
	for at, tag := range s.tags { // sorted with all edits
		if old := s.Text.Text[at.Start:at.OpenEnd]; old != tag {
			s.edits = append(s.edits, source.Edit{Offset: int(at.Start), Old: old, New: tag})
		}
	}
	for m, rows := range s.controls { // likewise
		e := s.layout.measures[m]
		indent := s.ChildIndent(e)
		s.insert(s.ContentEnd(e), indent+strings.Join(rows, indent))
	}
}

func (s *splicer) insert(at int32, text string) {
	s.edits = append(s.edits, source.Edit{Offset: int(at), New: text})
}

func (s *splicer) replace(at xmltree.Span, text string) {
	s.edits = append(s.edits, source.Edit{Offset: int(at.Start), Old: s.Of(at), New: text})
}

// tag is the open tag of an element as it will be.
func (s *splicer) tag(at xmltree.Span) string {
	if tag, changed := s.tags[at]; changed {
		return tag
	}
	return s.Text.Text[at.Start:at.OpenEnd]
}

// idAt is the id of an element; one that has none gets one.
func (s *splicer) idAt(at xmltree.Span, id string) string {
	if id != "" {
		return id
	}
	if given := s.ids[at]; given != "" {
		return given
	}
	s.count++
	id = s.ours + "n" + strconv.Itoa(s.count)
	s.ids[at] = id
	s.tags[at] = xmltree.WithAttribute(s.tag(at), xmltree.Attribute{Name: "xml:id", Value: id})
	return id
}

// name is an element's name in this document.
func (s *splicer) name(name string) string {
	if s.layout.prefix != "" {
		return s.layout.prefix + ":" + name
	}
	return name
}

// element writes an element; one without content is closed at once.
func (s *splicer) element(name, content string, attributes ...string) string {
	var b strings.Builder
	b.WriteString("<" + s.name(name))
	var all []xmltree.Attribute
	for i := 0; i+1 < len(attributes); i += 2 {
		all = append(all, xmltree.Attribute{Name: attributes[i], Value: attributes[i+1]})
	}
	xmltree.WriteAttributes(&b, all)
	if content == "" {
		return b.String() + "/>"
	}
	return b.String() + ">" + content + "</" + s.name(name) + ">"
}

// next is a new id for something that is added.
func (s *splicer) next(kind string) string {
	s.count++
	return s.ours + kind + strconv.Itoa(s.count)
}

// anchor says at which note something stands: by its id, or by its beat where it is written elsewhere.
func (s *splicer) anchor(lay *noteLayout) []string {
	if lay.copied {
		return []string{"tstamp", lay.stamp, "layer", lay.layer, "staff", strconv.Itoa(lay.staff)}
	}
	return []string{"startid", "#" + s.idAt(lay.note, lay.id), "staff", strconv.Itoa(lay.staff)}
}

func (s *splicer) add(lay *noteLayout, element string) {
	s.controls[lay.measure] = append(s.controls[lay.measure], element)
}

// digits adds digits at a note: two that change on the held key, or of which one is the alternative, as a group.
func (s *splicer) digits(lay *noteLayout, digits []score.MarkDigit) {
	for i := 0; i < len(digits); i++ {
		d := digits[i]
		form := ""
		if i+1 < len(digits) {
			switch next := digits[i+1]; {
			case next.Substitution:
				form = "subst"
			case next.Alternate && !d.Alternate:
				form = "alter"
			}
		}
		attributes := append([]string{"xml:id", s.next("f")}, s.anchor(lay)...)
		attributes = append(attributes, "place", placeOf(d.Placement))
		if form == "" {
			kind := ""
			if d.Alternate {
				kind = typeAlternative
			}
			s.add(lay, s.element("fing", s.look(d.Style, d.Enclosed()), append(attributes, "type", kind, "resp", s.resp(d))...))
			continue
		}
		then := digits[i+1]
		one := s.element("fing", s.look(d.Style, d.Enclosed()), "resp", s.resp(d))
		two := s.element("fing", s.look(then.Style, then.Enclosed()), "place", otherSide(d, then), "resp", s.resp(then))
		s.add(lay, s.element("fingGrp", one+two, append(attributes, "form", form)...))
		i++
	}
}

// otherSide is the side of the second digit of a group, where it is not that of the first.
func otherSide(d, then score.MarkDigit) string {
	if d.Placement == then.Placement {
		return ""
	}
	return placeOf(then.Placement)
}

func placeOf(p score.Placement) string { return p.String() }

// look sets words in the letters of a style.
func (s *splicer) look(style score.Style, text string) string {
	text = xmltree.Escape(text)
	attributes := styleAttributes(style, false)
	if !slices.ContainsFunc(attributes, func(a xmltree.Attribute) bool { return a.Value != "" }) {
		return text
	}
	var b strings.Builder
	xmltree.WriteAttributes(&b, attributes)
	return "<" + s.name("rend") + b.String() + ">" + text + "</" + s.name("rend") + ">"
}

// styleAttributes spells a style. Sizes that are named have their own names in MEI (data.FONTSIZETERM).
func styleAttributes(style score.Style, restyle bool) []xmltree.Attribute {
	var out []xmltree.Attribute
	add := func(name, value string, said bool) {
		if said {
			out = append(out, xmltree.Attribute{Name: name, Value: value})
		} else if restyle {
			out = append(out, xmltree.Attribute{Name: name})
		}
	}
	add("fontstyle", "italic", style.Italic)
	add("fontweight", "bold", style.Bold)
	if style.Size != "" {
		add("fontsize", sizeOf(style.Size), true)
	}
	if style.Colour != "" {
		add("color", style.Colour, true)
	}
	return out
}

// sizeOf spells a size: a CSS word, or points.
func sizeOf(size string) string {
	if _, err := strconv.ParseFloat(size, 64); err == nil {
		return size + "pt"
	}
	return size
}

// direction adds a hand sign, words at a roll, or an end of a hand bracket.
func (s *splicer) direction(lay *noteLayout, note int, d score.MarkDirection) {
	switch d.Kind {
	case score.MarkBracketStart:
		s.open[max(d.Number, 1)] = openBracket{note, d}
	case score.MarkBracketStop:
		if o, is := s.open[max(d.Number, 1)]; is {
			delete(s.open, max(d.Number, 1))
			s.bracket(o, note)
		}
	default:
		kind := typeHandSign
		if d.Kind == score.MarkRollWords {
			kind = typeRollWords
		}
		attributes := append([]string{"xml:id", s.next("d"), "type", kind, "place", placeOf(d.Placement)}, s.on(lay, d)...)
		s.add(lay, s.element("dir", s.look(d.Style, d.Text), attributes...))
	}
}

// on anchors a direction, on a staff of its own where it names one.
func (s *splicer) on(lay *noteLayout, d score.MarkDirection) []string {
	anchor := s.anchor(lay)
	staff := s.layout.number(lay, d.Staff)
	for i := 0; i+1 < len(anchor); i += 2 {
		if anchor[i] == "staff" {
			anchor[i+1] = strconv.Itoa(staff)
		}
	}
	if d.Voice != "" && !lay.copied {
		anchor = append(anchor, "layer", lay.layer)
	}
	return anchor
}

// number is the number in the document of a staff of a note's part; 0 means the note's own.
func (l *Layout) number(lay *noteLayout, local int) int {
	if staves := l.staves[lay.part]; local > 0 && local <= len(staves) {
		return staves[local-1]
	}
	return lay.staff
}

// bracket adds a hand bracket from its beginning to a note.
func (s *splicer) bracket(o openBracket, to int) {
	from, until := &s.layout.notes[o.note], &s.layout.notes[to]
	if from.copied || until.copied {
		return // brackets only show what the signs beside them say
	}
	hook := "angledown"
	if o.d.HookUp {
		hook = "angleup"
	}
	s.add(from, s.element("bracketSpan", "", "xml:id", s.next("b"), "type", typeHandBracket, "func", "hand", "startid",
		"#"+s.idAt(from.note, from.id), "endid", "#"+s.idAt(until.note, until.id),
		"staff", strconv.Itoa(s.layout.number(from, o.d.Staff)), "lform", "dashed", "lstartsym", hook, "lendsym", hook))
}

// arpeggios adds the signs of rolled chords, each once for all its chords.
func (s *splicer) arpeggios() {
	for _, number := range s.order {
		var targets []string
		first := &s.layout.notes[s.rolls[number][0]]
		for _, n := range s.rolls[number] {
			lay := &s.layout.notes[n]
			at, id := lay.note, lay.id
			if lay.chord {
				at, id = lay.on, lay.onID
			}
			if lay.copied {
				continue
			}
			if target := "#" + s.idAt(at, id); !slices.Contains(targets, target) {
				targets = append(targets, target)
			}
		}
		if len(targets) == 0 {
			continue
		}
		roll := s.looks[number]
		order := "up"
		if roll.Down {
			order = "down"
		}
		enclose := map[score.Enclosure]string{score.Brackets: "brack", score.Parentheses: "paren"}[roll.Enclosure]
		s.add(first, s.element("arpeg", "", "xml:id", s.next("r"), "type", typeRoll, "plist", strings.Join(targets, " "),
			"staff", strconv.Itoa(first.staff), "order", order, "enclose", enclose))
	}
}

// move puts a note on another staff of its part: its layer and its time stay.
func (s *splicer) move(lay *noteLayout, m score.Mark) error {
	if lay.copied {
		return fmt.Errorf("note %d is written elsewhere (@copyof) and cannot be put on another staff", m.Note)
	}
	tag := xmltree.WithAttribute(s.tag(lay.note), xmltree.Attribute{Name: "staff", Value: strconv.Itoa(s.layout.number(lay, m.Staff))})
	if m.Stem != "" && strings.Contains(tag, "stem.dir") {
		tag = xmltree.WithAttribute(tag, xmltree.Attribute{Name: "stem.dir", Value: m.Stem})
	}
	s.tags[lay.note] = tag
	return nil
}
