package findings

import (
	"fmt"
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/cmd/workbench/alteration"
)

// digits makes the digits of a note these.
func (g *planter) digits(n int, texts ...string) []*etree.Element {
	e := g.at[n]
	for _, f := range alteration.FingeringsOf(e) {
		f.Parent().RemoveChild(f)
	}
	var out []*etree.Element
	for _, text := range texts {
		f := alteration.TechnicalOf(e).CreateElement("fingering")
		f.SetText(text)
		out = append(out, f)
	}
	return out
}

// outwardDigits gives two notes a digit each: a to the one on the side of the thumb, b to the other.
func (g *planter) outwardDigits(n, m int, a, b string) {
	if g.base.Outward(n, m) < 0 {
		a, b = b, a
	}
	g.digits(n, a)
	g.digits(m, b)
}

func (g *planter) slur(n, m int) {
	for i, x := range []int{n, m} {
		s := alteration.NotationsOf(g.at[x]).CreateElement("slur")
		s.CreateAttr("number", "6")
		s.CreateAttr("type", []string{"start", "stop"}[i])
	}
}

// direction puts a direction before a note's chord.
func (g *planter) direction(n int, staff int, child *etree.Element) {
	e := g.at[n]
	parent := e.Parent()
	at := e.Index()
	for at > 0 {
		if x, ok := parent.Child[at].(*etree.Element); ok && x.Tag == "note" && x.SelectElement("chord") == nil {
			break
		}
		at--
	}
	d := etree.NewElement("direction")
	d.CreateElement("direction-type").AddChild(child)
	d.CreateElement("staff").SetText(fmt.Sprint(staff))
	parent.InsertChildAt(at, d)
}

func words(text string) *etree.Element {
	w := etree.NewElement("words")
	w.SetText(text)
	return w
}

func setOctave(e *etree.Element, by int) {
	o := e.FindElement("pitch/octave")
	n, _ := strconv.Atoi(o.Text())
	o.SetText(strconv.Itoa(n + by))
}

// repeatSign puts a sign of repetition at a measure, in every part.
func (g *planter) repeatSign(measure int, direction string) {
	for _, part := range g.Doc.FindElements("//part") {
		m := part.SelectElements("measure")[measure]
		for _, old := range m.SelectElements("barline") {
			if (old.SelectAttrValue("location", "right") == "left") == (direction == "forward") {
				m.RemoveChild(old)
			}
		}
		bar := etree.NewElement("barline")
		bar.CreateAttr("location", map[string]string{"forward": "left", "backward": "right"}[direction])
		bar.CreateElement("repeat").CreateAttr("direction", direction)
		if direction == "forward" {
			m.InsertChildAt(0, bar)
		} else {
			m.AddChild(bar)
		}
	}
}
