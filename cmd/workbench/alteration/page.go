package alteration

import (
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"fingerproof/corpus/score"
)

// What stands on the page beside the notes: each alteration changes elements
// of the document and notes their moment, counted by itself.

// Page lists the alterations of what stands on the page beside the notes.
var Page = []Alteration{
	{Name: "clef changed", Apply: one("clef", ".//attributes/clef", otherClef)},
	{Name: "key changed", Apply: inAllParts("key", "attributes/key/fifths", otherNumber)},
	{Name: "metre changed", Apply: inAllParts("metre", "attributes/time/beats", func(e *etree.Element) bool {
		return e.Parent().SelectAttr("symbol") == nil && otherNumber(e)
	})},
	{Name: "metre by a sign", Apply: inAllParts("metre", "attributes/time/beats", func(e *etree.Element) bool {
		if e.Parent().SelectAttr("symbol") != nil {
			return false
		}
		e.Parent().CreateAttr("symbol", "cut")
		return true
	})},
	{Name: "staff of one line", Apply: attribute("staff-details", `<staff-details number="1"><staff-lines>1</staff-lines></staff-details>`)},
	{Name: "transposed from here on", Apply: attribute("transposition", `<transpose><chromatic>-2</chromatic></transpose>`)},
	{Name: "slashes", Apply: attribute("measure-sign", `<measure-style number="1"><slash type="start"/></measure-style>`)},
	{Name: "numbering of measures", Apply: numbering},
	{Name: "double barline", Apply: barline("barline", `<bar-style>light-light</bar-style>`)},
	{Name: "repeat added", Apply: barline("repeat", `<bar-style>light-heavy</bar-style><repeat direction="backward"/>`)},
	{Name: "repeat missing", Apply: inAllParts("repeat", "barline/repeat", drop)},
	{Name: "ending added", Apply: addEnding},
	{Name: "ending renumbered", Apply: otherEnding},
	{Name: "segno", Apply: direction("jump", `<segno/>`)},
	{Name: "da capo", Apply: direction("jump", `<words>D.C. al Fine</words>`)},
	{Name: "tempo word", Apply: direction("tempo", `<words>Allegro vivace</words>`)},
	{Name: "metronome mark", Apply: direction("metronome",
		`<metronome><beat-unit>quarter</beat-unit><per-minute>77</per-minute></metronome>`)},
	{Name: "metronome changed", Apply: one("metronome", ".//metronome/per-minute", otherNumber)},
	{Name: "words added", Apply: direction("words", `<words>con sordino qua</words>`)},
	{Name: "words changed", Apply: one("words", ".//direction-type/words", otherWord)},
	{Name: "rehearsal mark", Apply: direction("rehearsal", `<rehearsal>Q</rehearsal>`)},
	{Name: "dynamic added", Apply: direction("dynamics", `<dynamics><sfpp/></dynamics>`)},
	{Name: "dynamic changed", Apply: one("dynamics", ".//direction-type/dynamics", otherDynamic)},
	{Name: "dynamic missing", Apply: one("dynamics", ".//direction/direction-type/dynamics", dropDirection)},
	{Name: "hairpin added", Apply: line("hairpin", `<wedge type="crescendo" number="6"/>`, `<wedge type="stop" number="6"/>`)},
	{Name: "hairpin turned", Apply: one("hairpin", ".//wedge", turnHairpin)},
	{Name: "pedal added", Apply: line("pedal", `<pedal type="start" number="6"/>`, `<pedal type="stop" number="6"/>`)},
	{Name: "octave line added", Apply: line("octave-line", `<octave-shift type="down" size="8" number="6"/>`,
		`<octave-shift type="stop" size="8" number="6"/>`)},
	{Name: "octave line of another size", Apply: one("octave-line", ".//octave-shift", otherOctaveLine)},
	{Name: "dashes added", Apply: line("line", `<dashes type="start" number="6"/>`, `<dashes type="stop" number="6"/>`)},
	{Name: "sign of a direction", Apply: direction("direction-sign", `<damp/>`)},
	{Name: "chord symbol", Apply: besideNote("chord-symbol", `<harmony><root><root-step>A</root-step></root><kind>minor</kind></harmony>`)},
	{Name: "figured bass", Apply: besideNote("figured-bass", `<figured-bass><figure><figure-number>6</figure-number></figure></figured-bass>`)},
	{Name: "fermata", Apply: notation("fermata", `<fermata/>`)},
	{Name: "trill", Apply: notation("ornament", `<ornaments><trill-mark/></ornaments>`)},
	{Name: "rolled", Apply: notation("arpeggio", `<arpeggiate/>`)},
	{Name: "glissando", Apply: notation("glissando", `<glissando type="start" number="6"/>`)},
	{Name: "sign of playing", Apply: notation("technical", `<technical><open-string/></technical>`)},
	{Name: "sign at a note", Apply: notation("notation", `<other-notation type="single">cross</other-notation>`)},
	{Name: "tie into the open", Apply: notation("let-ring", `<tied type="let-ring"/>`)},
	{Name: "another articulation", Apply: notation("articulation", `<articulations><doit/></articulations>`)},
	{Name: "syllable added", Apply: addLyric},
	{Name: "syllable changed", Apply: one("lyric", ".//lyric/text", otherWord)},
	{Name: "syllable missing", Apply: one("lyric", ".//note/lyric", drop)},
	{Name: "accidental missing", Apply: dropAccidental},
	{Name: "accidental in parentheses", Apply: one("accidental", ".//note/accidental", func(e *etree.Element) bool {
		e.CreateAttr("parentheses", "yes")
		return e.Parent().SelectElement("rest") == nil
	})},
	{Name: "note value", Apply: otherValue},
	{Name: "dot lost", Apply: dropDot},
	{Name: "tuplet without number", Apply: one("tuplet", ".//tuplet[@type='start']", func(e *etree.Element) bool {
		if e.SelectAttr("show-number") != nil {
			return false
		}
		e.CreateAttr("show-number", "none")
		return true
	})},
	{Name: "slash of a grace note", Apply: otherSlash},
	{Name: "small note", Apply: small},
	{Name: "notehead", Apply: head},
	{Name: "other staff", Apply: otherStaff},
	{Name: "stem among voices", Apply: otherStem(true)},
	{Name: "rest hidden", Apply: ofRest(func(e *etree.Element) { e.CreateAttr("print-object", "no") })},
	{Name: "rest lost", Apply: ofRest(restToForward)},
	{Name: "title", Apply: inHead("title", "work/work-title", otherWord)},
	{Name: "creator", Apply: inHead("creator", "identification/creator", otherWord)},
	{Name: "rights", Apply: inHead("rights", "identification/rights", otherWord)},
	{Name: "words on the page", Apply: addCredit("credit", "", "Fine della parte")},
	{Name: "legend", Apply: addCredit("legend", "fingering legend", "italic: the editor")},
	{Name: "part missing", Late: 3, Apply: dropPart},
	{Name: "part added", Late: 3, Apply: copyPart},
}

// fragment makes an element of its text.
func fragment(text string) *etree.Element {
	doc := etree.NewDocument()
	if err := doc.ReadFromString(text); err != nil {
		panic(err) // it is written in this file
	}
	return doc.Root()
}

// open draws an element of a path whose measure no other alteration has touched.
func (d *Draft) open(path string) *etree.Element {
	var all []*etree.Element
	for _, part := range d.Doc.FindElements("//part") {
		all = append(all, part.FindElements(path)...)
	}
	for range 30 {
		if len(all) == 0 {
			return nil
		}
		e := all[d.Rng.IntN(len(all))]
		if m := childOfMeasure(e).Parent(); m != nil && !d.nearClosed(m) {
			return e
		}
	}
	return nil
}

// nearClosed reports that a measure, in any part, is touched by another alteration.
func (d *Draft) nearClosed(m *etree.Element) bool {
	for _, other := range d.column(m) {
		if d.closed[other] {
			return true
		}
		for _, n := range other.SelectElements("note") {
			if _, old := d.OldN[n]; !old || d.touched[n] {
				return true
			}
		}
	}
	return len(d.column(m)) == 0
}

// column gives the measures of all parts that stand over each other.
func (d *Draft) column(m *etree.Element) (out []*etree.Element) {
	parts := d.parts()
	for _, p := range parts {
		for i := range p {
			if p[i] != m {
				continue
			}
			for _, q := range parts {
				out = append(out, q[i])
			}
			return out
		}
	}
	return nil
}

// close keeps other alterations away from a measure and its like in the other parts.
func (d *Draft) close(m *etree.Element) {
	for _, other := range d.column(m) {
		d.closed[other] = true
	}
}

func (d *Draft) plantAt(kind string, s spot) {
	d.close(s.measure)
	d.truths = append(d.truths, planted{kind: kind, measureA: -1, spot: &s})
}

// one changes one element of a path.
func one(kind, path string, change func(e *etree.Element) bool) func(d *Draft) bool {
	return func(d *Draft) bool {
		e := d.open(path)
		if e == nil {
			return false
		}
		s := spotOf(childOfMeasure(e))
		if !change(e) {
			return false
		}
		d.plantAt(kind, s)
		return true
	}
}

// inAllParts changes what a path finds first in each part's copy of one measure.
func inAllParts(kind, path string, change func(e *etree.Element) bool) func(d *Draft) bool {
	return func(d *Draft) bool {
		e := d.open("measure/" + path)
		if e == nil {
			return false
		}
		child := childOfMeasure(e)
		s := spotOf(child)
		if child.Tag == "barline" {
			s.onset, s.end = score.Fraction{}, child.SelectAttrValue("location", "right") == "right"
		}
		var all []*etree.Element
		text := e.Text()
		for _, m := range d.column(s.measure) {
			found := m.FindElements(path)
			if len(found) != 1 || found[0].Text() != text {
				return false
			}
			all = append(all, found[0])
		}
		for _, x := range all {
			if !change(x) {
				return false
			}
		}
		d.plantAt(kind, s)
		return true
	}
}

func drop(e *etree.Element) bool {
	e.Parent().RemoveChild(e)
	return true
}

func dropDirection(e *etree.Element) bool {
	direction := e.Parent().Parent()
	if len(direction.SelectElements("direction-type")) > 1 {
		return false
	}
	return drop(direction)
}

func otherNumber(e *etree.Element) bool {
	n, err := strconv.Atoi(strings.TrimSpace(e.Text()))
	if err != nil {
		return false
	}
	e.SetText(strconv.Itoa(n + 1))
	return true
}

// otherWord changes one letter, as a misprint does.
func otherWord(e *etree.Element) bool {
	text := strings.TrimSpace(e.Text())
	if len(text) < 3 || strings.ContainsAny(text[:3], "().") {
		return false
	}
	e.SetText("Qx" + text[1:])
	return true
}

func otherClef(e *etree.Element) bool {
	sign, line := e.SelectElement("sign"), e.SelectElement("line")
	if sign == nil || line == nil {
		return false
	}
	if sign.Text() == "C" {
		return false
	}
	sign.SetText("C")
	line.SetText("3")
	return true
}

func otherDynamic(e *etree.Element) bool {
	children := e.ChildElements()
	if len(children) != 1 || children[0].Tag == "other-dynamics" {
		return false
	}
	children[0].Tag = map[bool]string{true: "ppp", false: "fff"}[children[0].Tag == "fff"]
	return true
}

func turnHairpin(e *etree.Element) bool {
	switch e.SelectAttrValue("type", "") {
	case "crescendo":
		e.CreateAttr("type", "diminuendo")
	case "diminuendo":
		e.CreateAttr("type", "crescendo")
	default:
		return false
	}
	return true
}

func otherOctaveLine(e *etree.Element) bool {
	if kind := e.SelectAttrValue("type", ""); kind != "up" && kind != "down" || e.SelectAttrValue("size", "8") != "8" {
		return false
	}
	e.CreateAttr("size", "15")
	return true
}

// attribute adds to the attributes at the beginning of a measure of the first keyboard part.
func attribute(kind, text string) func(d *Draft) bool {
	return func(d *Draft) bool {
		e := d.candidate()
		if e == nil {
			return false
		}
		m := e.Parent()
		attributes := etree.NewElement("attributes")
		attributes.AddChild(fragment(text))
		at := 0
		if first := m.SelectElement("attributes"); first != nil {
			at = first.Index() + 1
		}
		m.InsertChildAt(at, attributes)
		d.plantAt(kind, spotOf(attributes))
		return true
	}
}

// candidate draws a note of the piano whose measure is untouched.
func (d *Draft) candidate() *etree.Element {
	for range 30 {
		if len(d.Notes) == 0 {
			return nil
		}
		e := d.Notes[d.Rng.IntN(len(d.Notes))]
		if e.Parent() != nil && e.SelectElement("chord") == nil && e.SelectElement("grace") == nil && !d.nearClosed(e.Parent()) {
			return e
		}
	}
	return nil
}

func numbering(d *Draft) bool {
	e := d.candidate()
	if e == nil {
		return false
	}
	p := fragment(`<print><measure-numbering>measure</measure-numbering></print>`)
	e.Parent().InsertChildAt(0, p)
	d.plantAt("measure-numbering", spotOf(p))
	return true
}

// withoutBarline gives a note, and its measure in all parts, where none of them has a barline of its own; nil where one
// has.
func (d *Draft) withoutBarline() (note *etree.Element, column []*etree.Element) {
	e := d.candidate()
	if e == nil {
		return nil, nil
	}
	column = d.column(e.Parent())
	for _, m := range column {
		if m.SelectElement("barline") != nil {
			return nil, nil
		}
	}
	return e, column
}

// barline adds a right barline in all parts to a measure that has none.
func barline(kind, inner string) func(d *Draft) bool {
	return func(d *Draft) bool {
		e, column := d.withoutBarline()
		if e == nil {
			return false
		}
		for _, m := range column {
			m.AddChild(fragment(`<barline location="right">` + inner + `</barline>`))
		}
		d.plantAt(kind, spot{measure: e.Parent(), end: true})
		return true
	}
}

func addEnding(d *Draft) bool {
	e, column := d.withoutBarline()
	if e == nil {
		return false
	}
	for _, m := range column {
		m.InsertChildAt(0, fragment(`<barline location="left"><ending number="1" type="start"/></barline>`))
		m.AddChild(fragment(`<barline location="right"><ending number="1" type="stop"/></barline>`))
	}
	d.plantAt("ending", spot{measure: e.Parent()})
	return true
}

func otherEnding(d *Draft) bool {
	return inAllParts("ending", "barline/ending[@type='start']", func(e *etree.Element) bool {
		e.CreateAttr("number", "5")
		return e.SelectAttrValue("print-object", "yes") == "yes"
	})(d)
}

// direction puts a direction before a note.
func direction(kind, inner string) func(d *Draft) bool {
	return func(d *Draft) bool {
		e := d.candidate()
		if e == nil {
			return false
		}
		dir := putDirection(e, inner)
		d.plantAt(kind, spotOf(dir))
		return true
	}
}

func putDirection(e *etree.Element, inner string) *etree.Element {
	dir := fragment(`<direction><direction-type>` + inner + `</direction-type></direction>`)
	dir.CreateElement("staff").SetText(strconv.Itoa(max(intOf(e, "staff"), 1)))
	e.Parent().InsertChildAt(e.Index(), dir)
	return dir
}

// line puts both ends of a line: before a note, and after the last of its chord.
func line(kind, start, stop string) func(d *Draft) bool {
	return func(d *Draft) bool {
		e := d.candidate()
		if e == nil || intOf(e, "duration") == 0 {
			return false
		}
		last := e
		for n := nextElement(last); n != nil && n.Tag == "note" && n.SelectElement("chord") != nil; n = nextElement(last) {
			last = n
		}
		end := putDirection(e, stop)
		e.Parent().RemoveChild(end)
		last.Parent().InsertChildAt(last.Index()+1, end)
		d.plantAt(kind, spotOf(putDirection(e, start)))
		return true
	}
}

// besideNote puts an element of a measure before a note.
func besideNote(kind, text string) func(d *Draft) bool {
	return func(d *Draft) bool {
		e := d.candidate()
		if e == nil {
			return false
		}
		x := fragment(text)
		e.Parent().InsertChildAt(e.Index(), x)
		d.plantAt(kind, spotOf(x))
		return true
	}
}
