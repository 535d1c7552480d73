package alteration

import (
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/corpus/score"
)

// Layout lists the alterations of layout: found where layout is compared, and nothing where it is not.
var Layout = []Alteration{
	{Name: "system broken", Apply: pageBreak("system-break", "new-system")},
	{Name: "page turned", Apply: pageBreak("page-break", "new-page")},
	{Name: "beam cut", Apply: dropBeam},
	{Name: "stem turned", Apply: otherStem(false)},
	{Name: "line of a trill", Apply: trillLine},
	{Name: "clef said again", Apply: clefAgain},
	{Name: "dynamic on the other side", Apply: one("side", ".//direction[@placement]/direction-type/dynamics", func(e *etree.Element) bool {
		dir := e.Parent().Parent()
		side := dir.SelectAttrValue("placement", "")
		staff := dir.SelectElement("staff")
		if staff == nil || len(dir.SelectElements("direction-type")) > 1 || (staff.Text() == "1") != (side == "above") {
			return false // between the staves the side is no other place
		}
		dir.CreateAttr("placement", map[string]string{"above": "below", "below": "above"}[side])
		return e.SelectAttr("placement") == nil
	})},
	{Name: "words in other letters", Apply: one("look", ".//direction-type/words", func(e *etree.Element) bool {
		if e.Parent().SelectElement("words") != e || e.SelectAttr("font-style") != nil || e.Text() == "" {
			return false
		}
		e.CreateAttr("font-style", "italic")
		return true
	})},
}

func pageBreak(kind, name string) func(d *Draft) bool {
	return func(d *Draft) bool {
		e := d.candidate()
		if e == nil || e.Parent().SelectElement("print") != nil {
			return false
		}
		p := etree.NewElement("print")
		p.CreateAttr(name, "yes")
		e.Parent().InsertChildAt(0, p)
		d.plantAt(kind, spotOf(p))
		return true
	}
}

// dropBeam takes the beams of a note that begins a pair away, and those of the next.
func dropBeam(d *Draft) bool {
	return d.printedNote("beam", func(e *etree.Element, n *score.Note) bool {
		beams := e.SelectElements("beam")
		return len(beams) == 1 && beams[0].Text() == "continue" && n.Grace == 0
	}, func(e *etree.Element) { drop(e.SelectElement("beam")) })
}

func trillLine(d *Draft) bool {
	return d.printedNote("trill-line", func(e *etree.Element, n *score.Note) bool {
		return e.FindElement("notations/ornaments/trill-mark") != nil && e.FindElement("notations/ornaments/wavy-line") == nil
	}, func(e *etree.Element) {
		e.FindElement("notations/ornaments").AddChild(fragment(`<wavy-line type="start" number="6"/>`))
		e.FindElement("notations/ornaments").AddChild(fragment(`<wavy-line type="stop" number="6"/>`))
	})
}

// clefAgain states a clef that is in force: the last of its staff before.
func clefAgain(d *Draft) bool {
	e := d.candidate()
	if e == nil {
		return false
	}
	staff := strconv.Itoa(max(intOf(e, "staff"), 1))
	var clef *etree.Element
	for _, m := range e.Parent().Parent().SelectElements("measure") {
		if m == e.Parent() {
			break
		}
		for _, c := range m.FindElements("attributes/clef") {
			if c.SelectAttrValue("number", "1") == staff {
				clef = c
			}
		}
	}
	if clef == nil || e.Parent().FindElement("attributes/clef") != nil {
		return false
	}
	attributes := etree.NewElement("attributes")
	attributes.AddChild(clef.Copy())
	e.Parent().InsertChildAt(0, attributes)
	d.plantAt("restated", spotOf(attributes))
	return true
}
