package mei

import (
	"fmt"
	"strconv"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// measure is a measure of all parts, its events in time.
type measure struct {
	index    int
	at       *xmltree.Element
	number   string
	implicit bool
	defs     map[int]definition // by staff: what is in force
	layers   []*layer
	controls []*xmltree.Element
	length   score.Fraction
	brk      string // "page" or "system" where one begins
	forward  bool   // a sign to repeat from
	backward bool
	times    int    // how often a passage that is repeated is played in all, where the document says so
	left     string // barlines of a look of their own
	right    string
	placed   bool // its events know their places
	inserted bool // the document has no such measure: one before it stands for several (<multiRest>)
	copied   bool // it is written elsewhere, and only meant here (@copyof)
	// elsewhere says that its place in the document is that of another measure, since its whole section is a copy.
	elsewhere bool
	// names are, by sign, the events that ids mean to signs that are copies: the copies of what they name.
	names  map[*xmltree.Element]names
	opens  *xmltree.Element // an ending that begins here
	closes *xmltree.Element // and one that ends
	// directions by part, each with its time.
	directions map[int][]direction
}

// direction is an element that stands at a moment of a measure.
type direction struct {
	onset score.Fraction
	e     *xmltree.Element
}

// section reads what a section, an ending or a score holds, in its order.
func (r *reader) section(e *xmltree.Element, depth int) error {
	if depth > r.limits.Tree.Depth {
		return r.fault(e, "sections stand too deep in each other", "")
	}
	begin, expansions := len(r.measures), len(r.expansions)
	for c := range r.content(e) {
		var err error
		before := len(r.measures)
		switch c.Name {
		case "section":
			err = r.copiedSection(c, depth)
			r.ranges[idOf(c)] = [2]int{before, len(r.measures)}
		case "expansion":
			r.expansions = append(r.expansions, expansion{e: c, from: -1})
		case "ending":
			err = r.endingOf(c, depth)
			r.ranges[idOf(c)] = [2]int{before, len(r.measures)}
		case "scoreDef", "staffDef":
			err = r.define(c)
		case "measure":
			err = r.measure(c)
		case "pb":
			r.brk = "page"
		case "sb":
			if r.brk == "" {
				r.brk = "system"
			}
		case "staff", "layer":
			err = r.fault(c, fmt.Sprintf("<%s> stands outside a measure", c.Name), "only common music notation in measures is read")
		}
		if err != nil {
			return err
		}
	}
	for i := range r.expansions[expansions:] {
		if x := &r.expansions[expansions+i]; x.from < 0 {
			x.from, x.to = begin, len(r.measures)
		}
	}
	return nil
}

func (r *reader) endingOf(e *xmltree.Element, depth int) error {
	before := len(r.measures)
	if err := r.section(e, depth+1); err != nil {
		return err
	}
	if len(r.measures) > before {
		r.measures[before].opens, r.measures[len(r.measures)-1].closes = e, e
	}
	return nil
}

// expand reads how often sections are played: an <expansion> names each as often, in the order of playing.
func (r *reader) expand() {
	for _, x := range r.expansions {
		times, before := 0, ""
		for _, id := range strings.Fields(x.e.Attribute("plist")) {
			id = strings.TrimPrefix(id, "#")
			if id != before {
				times, before = 0, id
			}
			times++
			if x, known := r.ranges[id]; known && x[1] > x[0] && times > 2 && r.measures[x[1]-1].backward {
				r.measures[x[1]-1].times = times
			}
		}
	}
}

func (r *reader) measure(e *xmltree.Element) error {
	copy := r.isCopy(e)
	e = r.copied(e)
	if err := r.restsBefore(e); err != nil {
		return err
	}
	if len(r.measures) >= r.limits.Music.Measures {
		return r.tooMany(e)
	}
	if len(r.parts) == 0 {
		return r.fault(e, "a measure stands before any staff is defined", "a <scoreDef> with a <staffGrp> has to come before the music")
	}
	m := &measure{
		index: len(r.measures), at: e, number: e.Attribute("n"), brk: r.brk,
		defs: map[int]definition{}, directions: map[int][]direction{}, copied: copy || r.copying, elsewhere: r.copying,
		names: map[*xmltree.Element]names{},
	}
	if n := e.Child("mNum"); n != nil && m.number == "" {
		m.number = r.textOf(n)
	}
	if m.number == "" {
		m.number = strconv.Itoa(m.index + 1)
	}
	r.brk = ""
	m.implicit = e.Attribute("metcon") == "false" && (!r.verovio || r.unnumbered(m))
	r.measures = append(r.measures, m)
	r.layout.measures = append(r.layout.measures, e.Span)
	r.barlines(m)
	for c := range r.content(e) {
		if c.Name == "staffDef" || c.Name == "scoreDef" {
			if err := r.define(c); err != nil {
				return err
			}
		}
	}
	for n, d := range r.defs { // copies: any order will do
		d.inTurn()
		m.defs[n] = *d
	}
	for c := range r.content(e) {
		switch c.Name {
		case "staff":
			if err := r.staff(m, c); err != nil {
				return err
			}
		case "ossia":
			r.ossia(m, c)
			for inner := range r.content(c) {
				if inner.Name == "staff" {
					if err := r.staff(m, inner); err != nil {
						return err
					}
				}
			}
		case "staffDef", "scoreDef", "mNum":
		default:
			if err := r.sign(m, c); err != nil {
				return err
			}
		}
	}
	switch {
	case r.copying: // what leads out of the measure is found when the section is read
		m.namedAnew(0, 0)
	case copy:
		r.copiedMeasures(m.index)
	}
	r.ratios(m)
	if err := r.time(m); err != nil {
		return err
	}
	r.derived(m)
	return nil
}

func (r *reader) tooMany(e *xmltree.Element) error {
	return r.fault(e, fmt.Sprintf("the score has more than %d measures", r.limits.Music.Measures), "")
}

// sign takes up a sign that stands beside the notes of a measure.
func (r *reader) sign(m *measure, e *xmltree.Element) error {
	if r.controls++; r.controls > r.limits.Controls {
		return r.fault(e, fmt.Sprintf("the score has more than %d signs", r.limits.Controls), "")
	}
	m.controls = append(m.controls, e)
	return nil
}

// unnumbered says that a measure does not count: its number is none, or that of the one before. Verovio marks every measure
// that does not add up as one that need not (@metcon), so that in its files only the numbers tell an upbeat.
func (r *reader) unnumbered(m *measure) bool {
	again := m.index > 0 && r.measures[m.index-1].number == m.number
	return atoi(m.number) <= 0 || again
}

// ossia notes another text that is offered beside the staff and not read.
func (r *reader) ossia(m *measure, e *xmltree.Element) {
	if e.Child("oStaff") != nil || e.Child("oLayer") != nil {
		r.oddAt(score.OddNoDigits, nil, e, "an ossia stands here: it is kept as it stands, not looked at, and gets no digits")
	}
}

// barlines reads the edges of a measure. A sign to repeat from may stand at either side of a barline.
func (r *reader) barlines(m *measure) {
	left, right := m.at.Attribute("left"), m.at.Attribute("right")
	m.forward, r.forward = r.forward, false
	switch left {
	case "rptstart":
		m.forward = true
	case "rptboth", "rptend":
		m.forward = m.forward || left == "rptboth"
		if m.index > 0 {
			r.measures[m.index-1].backward = true
		}
	default:
		m.left = barline(left)
	}
	switch right {
	case "rptend", "rptboth":
		m.backward, r.forward = true, right == "rptboth"
	case "rptstart":
		r.forward = true
	default:
		m.right = barline(right)
	}
}

// barline is the style of a barline in MusicXML's words, "" for the usual one.
func barline(form string) string {
	switch form {
	case "", "single":
		return ""
	case "dbl":
		return "light-light"
	case "end":
		return "light-heavy"
	case "invis":
		return "none"
	case "heavy", "dashed", "dotted":
		return form
	}
	return strings.TrimPrefix(form, "dbl")
}

// mostLayers bounds the layers of a measure, of all staves.
const mostLayers = 512

// layer is a voice on a staff in a measure.
type layer struct {
	at      *xmltree.Element
	staff   int // number in the document
	n       string
	voice   string
	events  []*event
	length  score.Fraction
	played  score.Fraction // by the ticks that notes have, zero where some have none
	ticked  bool
	ratio   score.Fraction // of the tuplets that are open
	actual  int64
	normal  int64
	grace   *xmltree.Element // graceGrp
	cue     bool
	tremolo *tremolo
	beams   []*beam
	depth   int // of groups
	tuplets int // that are open
	order   int // in its measure
	copied  bool
	hidden  bool // it is not shown, or its staff is not
}

// staff reads the layers of a staff in a measure.
func (r *reader) staff(m *measure, e *xmltree.Element) error {
	copy, from := r.isCopy(e), len(m.controls)
	e = r.copied(e)
	n := atoi(e.Attribute("n"))
	if def := r.byID[strings.TrimPrefix(e.Attribute("def"), "#")]; n == 0 && def != nil {
		n = atoi(def.Attribute("n"))
	}
	if r.staves[n] == nil && e.Attribute("n") == "" {
		return r.fault(e, "a staff does not say which one it is", "its number (@n), or its definition (@def), has to be named")
	}
	if r.staves[n] == nil {
		return r.fault(e, fmt.Sprintf("staff %.40q is not defined", e.Attribute("n")), "a <staffDef> has to come before the music")
	}
	count, sign := 0, false
	walk := func(c *xmltree.Element) error {
		c = r.copied(c)
		count++
		l := &layer{
			at: c, staff: n, n: c.Attribute("n"), ratio: score.Whole(1), actual: 1, normal: 1, ticked: true,
			copied: m.copied || c.Attribute("copyof")+e.Attribute("copyof") != "",
			hidden: unseen(c)+unseen(e) != "" || r.defs[n] != nil && r.defs[n].hidden,
		}
		if l.n == "" {
			l.n = strconv.Itoa(count)
		}
		l.cue = c.Attribute("cue") == "true"
		if m.layers = append(m.layers, l); len(m.layers) > mostLayers {
			return r.fault(c, fmt.Sprintf("more than %d layers are in this measure", mostLayers), "no music has so many")
		}
		if err := r.layerContent(m, l, c); err != nil {
			return err
		}
		return r.followed(m, l)
	}
	for c := range r.content(e) {
		switch c.Name {
		case "layer":
			if err := walk(c); err != nil {
				return err
			}
			sign = c.Child("mRpt") != nil
		case "ossia":
			r.ossia(m, c)
			for inner := range r.content(c) {
				if inner.Name == "layer" {
					if err := walk(inner); err != nil {
						return err
					}
				}
			}
		case "staffDef": // read with the measure
		default:
			if err := r.sign(m, onStaff(c, n)); err != nil {
				return err
			}
		}
	}
	if copy && !m.copied {
		m.namedAnew(n, from)
	}
	if sign && count == 1 {
		return r.otherLayers(m, n, e)
	}
	return nil
}
