package engrave

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/beevik/etree"
)

// CSS goes once into a page that embeds excerpts. Everything is drawn in the colour of the text around it, so dark
// pages need nothing.
const CSS = `.engraving{fill:currentColor;max-width:100%;height:auto}
.engraving path,.engraving ellipse,.engraving polygon,.engraving polyline,.engraving rect{stroke:currentColor}
.engraving .ending,.engraving .reh,.engraving .tempo{font-weight:bold}
.engraving .dir,.engraving .dynam,.engraving .mNum{font-style:italic}
.engraving .ring,.engraving .box{fill:none;stroke:currentColor;stroke-width:30}
.engraving .label{font-family:sans-serif;font-weight:bold}
`

// Measures of the engraver's drawing, in its units: a staff space is 180.
const (
	staffSpace = 180
	ringRadius = 1.15 * staffSpace
	// The engraver's page is drawn at a tenth of its units, and 55 % of that is a comfortable size to read on a screen.
	readingScale = 0.55
)

// insideScale is how much larger the units of the drawing are than those of the picture about it.
const insideScale = 10

// picture is a drawing that is dressed, and not written yet.
type picture struct {
	document      *etree.Document
	root, inner   *etree.Element
	outer, inside box // what of it is shown, in the units outside and inside
	outlines      *outlineSet
	glyphs        glyphBoxes
	defs          *etree.Element // its outlines, where no page has them
	title         string
	cramped       []int // digits that want more room between the staves (cramped.go), system by system
}

// dress makes the engraver's picture fit for embedding: no id, no outside reference, no colour of its own, a title;
// digits in their style, changed digits boxed, rings round the note heads asked for. It says how many digits are cramped.
func dress(raw string, sheet *Sheet, options ExcerptOptions) (out Excerpt, cramped int, err error) {
	p, err := dressed(raw, sheet, options)
	if err != nil {
		return Excerpt{}, 0, err
	}
	out, err = p.written()
	return out, p.cramped[0], err
}

// dressed does all of this but for the writing.
func dressed(raw string, sheet *Sheet, options ExcerptOptions) (*picture, error) {
	p := &picture{document: etree.NewDocument(), title: options.Title}
	if err := p.document.ReadFromString(raw); err != nil {
		return nil, fmt.Errorf("reading the engraver's picture: %w", err)
	}
	p.root = p.document.Root()
	p.inner = p.root.SelectElement("svg")
	if p.inner == nil {
		return nil, fmt.Errorf("reading the engraver's picture: no drawing inside")
	}
	var ok bool
	viewBox, insideBox := p.root.SelectAttrValue("viewBox", ""), p.inner.SelectAttrValue("viewBox", "")
	if p.outer, ok = viewed(viewBox); !ok {
		return nil, fmt.Errorf("reading the engraver's picture: viewBox %q", viewBox)
	}
	if p.inside, ok = viewed(insideBox); !ok {
		return nil, fmt.Errorf("reading the engraver's picture: viewBox %q inside", insideBox)
	}
	p.glyphs = outlineBoxes(p.root)
	if options.places != nil { // each system is a picture of its own: they are not in each other's way
		for _, system := range p.inner.FindElements(".//g[@class='system']") {
			_, cramped := clearDigits(system, p.glyphs)
			p.cramped = append(p.cramped, cramped)
		}
	} else {
		above, cramped := clearDigits(p.inner, p.glyphs)
		p.cramped = []int{cramped}
		p.crop()
		p.higher(above - 7.5*pageMargin)
	}
	p.outlines = takeOutlines(p.root)
	removeAll(p.root, "style", "desc", "title")
	p.inner.RemoveAttr("color")
	dressElements(p.inner, sheet, p.outlines)
	markSigns(p.inner, options)
	if options.places != nil {
		placeSystems(p.inner, options.places)
	}
	if options.Glyphs != nil {
		options.Glyphs.add(p.outlines.used())
	} else {
		p.defs = etree.NewElement("defs")
		for _, outline := range p.outlines.used() {
			p.defs.AddChild(outline.element)
		}
	}
	return p, nil
}

// written writes a picture. It may be called again, after a change.
func (p *picture) written() (Excerpt, error) {
	wide, high := p.outer.right-p.outer.left, p.outer.bottom-p.outer.top
	out := Excerpt{Width: int(math.Ceil(wide * readingScale)), Height: int(math.Ceil(high * readingScale))}
	p.inner.CreateAttr("viewBox", p.inside.view())
	p.root.Attr = nil
	for _, attribute := range [][2]string{
		{"class", "engraving"}, {"role", "img"}, {"viewBox", p.outer.view()},
		{"width", strconv.Itoa(out.Width)}, {"height", strconv.Itoa(out.Height)},
	} {
		p.root.CreateAttr(attribute[0], attribute[1])
	}
	removeAll(p.root, "title", "defs")
	if p.title != "" {
		title := etree.NewElement("title")
		title.SetText(p.title)
		p.root.InsertChildAt(0, title)
	}
	if p.defs != nil {
		p.root.InsertChildAt(min(1, len(p.root.Child)), p.defs.Copy())
	}
	p.document.WriteSettings.CanonicalEndTags = false
	text, err := p.document.WriteToString()
	if err != nil {
		return Excerpt{}, fmt.Errorf("writing a picture: %w", err)
	}
	out.SVG = text
	return out, nil
}

// dressElements walks the drawing once.
func dressElements(element *etree.Element, sheet *Sheet, outlines *outlineSet) {
	element.RemoveAttr("data-class") // class says the same
	if firstClass(element) == "tempo" {
		drawMetronome(element)
	}
	plainSymbols(element)
	switch firstClass(element) {
	case "score":
		removeAll(element, "title")
	case "note":
		if note := sheet.note(element.SelectAttrValue("data-id", "")); note != nil && note.Ring != "" {
			defer drawRing(element, note.Ring, note.Label)
		}
	}
	// How many fingering signs of a note were met; they stand side by side, in the order of the list.
	signs := map[string]int{}
	for _, child := range element.ChildElements() {
		if strings.HasPrefix(child.SelectAttrValue("data-id", ""), hiddenEnd) {
			element.RemoveChild(child)
			continue
		}
		if child.Tag == "use" {
			outlines.rename(child)
		}
		if firstClass(child) == "fing" {
			id := strings.TrimPrefix(child.SelectAttrValue("data-startid", ""), "#")
			if note := sheet.note(id); note != nil {
				if digits := note.joined(); signs[id] < len(digits) {
					dressDigit(child, digits[signs[id]])
					bracketRow(child, digits[signs[id]].Placement == "below")
				}
				signs[id]++
			}
		}
		dressElements(child, sheet, outlines)
	}
	if id := element.SelectAttrValue("data-id", ""); id != "" && sheet.note(id) == nil {
		element.RemoveAttr("data-id") // the engraver's own ids say nothing to a page
	}
}

// dressDigit gives a fingering sign its style: the engraver reads none from MusicXML.
func dressDigit(sign *etree.Element, digit DrawnDigit) {
	if digit.Class != "" {
		sign.CreateAttr("class", "fing "+digit.Class)
	}
	text := sign.SelectElement("text")
	if text == nil {
		return
	}
	if digit.Italic {
		text.CreateAttr("font-style", "italic")
	}
	if digit.Bold {
		text.CreateAttr("font-weight", "bold")
	}
	if digit.Boxed {
		box := boxAround(text)
		sign.AddChild(box)
		if digit.Label != "" {
			x, y := number(box, "x")+number(box, "width"), number(box, "y")
			sign.AddChild(labelAt(x+labelSize/8, y+labelSize/3, digit.Label))
		}
	}
}

var fontSize = regexp.MustCompile(`^(\d+)px$`)

// boxAround draws a frame about a text set in the middle of its point, by the size of its font: digits are half as
// wide as high.
func boxAround(text *etree.Element) *etree.Element {
	letters, size := measured(text)
	width, height := size*(0.5*float64(letters)+0.35), size*0.95
	x, y := number(text, "x"), number(text, "y")
	box := etree.NewElement("rect")
	box.CreateAttr("class", "box")
	box.CreateAttr("x", rounded(x-width/2))
	box.CreateAttr("y", rounded(y-size*0.81))
	box.CreateAttr("width", rounded(width))
	box.CreateAttr("height", rounded(height))
	box.CreateAttr("fill", "none")
	return box
}

var placed = regexp.MustCompile(`translate\(\s*(-?[\d.]+)[,\s]+(-?[\d.]+)\s*\)`)

// drawRing draws a circle round the head of a note.
func drawRing(note *etree.Element, class, label string) {
	head := note.FindElement(".//g[@class='notehead']/use")
	if head == nil {
		return
	}
	at := placed.FindStringSubmatch(head.SelectAttrValue("transform", ""))
	if at == nil {
		return
	}
	x, _ := strconv.ParseFloat(at[1], 64)
	y, _ := strconv.ParseFloat(at[2], 64)
	const halfHead = 0.59 * staffSpace
	ring := note.CreateElement("circle")
	ring.CreateAttr("class", "ring "+class)
	ring.CreateAttr("cx", rounded(x+halfHead))
	ring.CreateAttr("cy", rounded(y))
	ring.CreateAttr("r", rounded(ringRadius))
	ring.CreateAttr("fill", "none")
	ring.CreateAttr("stroke", "currentColor")
	ring.CreateAttr("stroke-width", "30")
	if label != "" {
		note.AddChild(labelAt(x+halfHead+0.8*ringRadius, y-0.8*ringRadius, label))
	}
}

// labelSize is the height of small labels, in the engraver's units.
const labelSize = 210

// labelAt is a small number beside what is marked.
func labelAt(x, y float64, label string) *etree.Element {
	text := etree.NewElement("text")
	text.CreateAttr("class", "label")
	text.CreateAttr("x", rounded(x))
	text.CreateAttr("y", rounded(y))
	text.CreateAttr("font-size", rounded(labelSize)+"px")
	text.SetText(label)
	return text
}

// markSigns gives the signs asked for the class "differs", and their labels.
func markSigns(inner *etree.Element, options ExcerptOptions) {
	if len(options.Signs) == 0 {
		return
	}
	measure := options.first
	for _, group := range inner.FindElements(".//g") {
		if firstClass(group) != "measure" {
			continue
		}
		for _, mark := range options.Signs {
			if mark.Measure == measure {
				mark.on(group)
			}
		}
		measure++
	}
}

// on marks the signs of a class in one drawn measure.
func (m SignMark) on(measure *etree.Element) {
	staff := 0
	for _, child := range measure.ChildElements() {
		if firstClass(child) == "staff" {
			if staff++; m.Staff > 0 && staff != m.Staff {
				continue
			}
		}
		for _, sign := range append(child.FindElements(".//g"), child) {
			if firstClass(sign) != m.Class {
				continue
			}
			label := m.Label
			if before := sign.SelectAttrValue("data-label", ""); before != "" {
				label = before + ", " + label
			} else {
				sign.CreateAttr("class", sign.SelectAttrValue("class", "")+" differs")
			}
			sign.CreateAttr("data-label", label)
		}
	}
}

func firstClass(element *etree.Element) string {
	first, _, _ := strings.Cut(element.SelectAttrValue("class", ""), " ")
	return first
}

func number(element *etree.Element, attribute string) float64 {
	value, _ := strconv.ParseFloat(element.SelectAttrValue(attribute, "0"), 64)
	return value
}

func rounded(value float64) string { return strconv.Itoa(int(math.Round(value))) }
