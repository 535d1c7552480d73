package alteration

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/corpus/score"
)

// RenumberVoices gives all voices other numbers.
func RenumberVoices(d *Draft) bool {
	by := 1 + d.Rng.IntN(9)
	for _, v := range d.Doc.FindElements("//voice") {
		if n, err := strconv.Atoi(v.Text()); err == nil {
			v.SetText(strconv.Itoa((n*7+by)%97 + 1))
		}
	}
	return true
}

// Redivide writes all durations in smaller units.
func Redivide(d *Draft) bool {
	by := 2 + d.Rng.IntN(6)
	for _, path := range []string{"//divisions", "//duration", "//direction/offset"} {
		for _, e := range d.Doc.FindElements(path) {
			if n, err := strconv.Atoi(e.Text()); err == nil {
				e.SetText(strconv.Itoa(n * by))
			}
		}
	}
	return true
}

// Renumber gives all measures other numbers and takes the ids away.
func Renumber(d *Draft) bool {
	for i, m := range d.Doc.FindElements("//measure") {
		m.CreateAttr("number", strconv.Itoa(100+i))
		m.RemoveAttr("id")
	}
	for _, n := range d.Doc.FindElements("//note") {
		n.RemoveAttr("id")
	}
	return true
}

// spreadChord gives one note of a chord a voice of its own.
func spreadChord(d *Draft) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		next := nextElement(e)
		last := next == nil || next.SelectElement("chord") == nil
		return last && n.Chord && n.Grace == 0 && !n.GraceAfter && intOf(e, "duration") > 0
	})
	if e == nil {
		return false
	}
	p := e.Parent()
	e.RemoveChild(e.SelectElement("chord"))
	if v := e.SelectElement("voice"); v != nil {
		v.SetText("77")
	}
	back := etree.NewElement("backup")
	back.CreateElement("duration").SetText(e.SelectElement("duration").Text())
	p.InsertChildAt(e.Index(), back)
	return true
}

// splitByTie writes one note as two tied ones.
func splitByTie(d *Draft) bool {
	e := d.pick(func(e *etree.Element, n *score.Note) bool {
		return loneStroke(n) && !inChord(e) && halves(e) && n.Tremolo.Strokes == 0
	})
	if e == nil {
		return false
	}
	half := intOf(e, "duration") / 2
	setInt(e, "duration", half)
	second := e.Copy()
	second.RemoveAttr("id")
	for _, tag := range []string{"notations", "beam", "lyric"} {
		for _, c := range second.SelectElements(tag) {
			second.RemoveChild(c)
		}
	}
	tie := func(e *etree.Element, kind string) {
		t := etree.NewElement("tie")
		t.CreateAttr("type", kind)
		e.InsertChildAt(e.SelectElement("duration").Index()+1, t)
	}
	tie(e, "start")
	tie(second, "stop")
	e.Parent().InsertChildAt(e.Index()+1, second)
	return true
}

// reorder turns the order of all attributes round.
func reorder(d *Draft) bool {
	for _, e := range d.Doc.FindElements("//*") {
		slices.Reverse(e.Attr)
	}
	return true
}

// renameParts calls every part something else, a singer's "Pfte.".
func renameParts(d *Draft) bool {
	for _, path := range []string{"//part-name", "//instrument-name", "//part-abbreviation"} {
		for _, e := range d.Doc.FindElements(path) {
			e.SetText("Pfte.")
		}
	}
	return true
}

// otherHeadings changes what the file says of itself and of its layout.
func otherHeadings(d *Draft) bool {
	for _, path := range []string{"//encoding/software", "//encoding-date", "//source", "//sound", "//defaults", "//supports"} {
		for _, e := range d.Doc.FindElements(path) {
			drop(e)
		}
	}
	for _, e := range d.Doc.FindElements("//measure/*") {
		for _, name := range []string{"default-x", "default-y", "relative-x", "width"} {
			e.RemoveAttr(name)
		}
	}
	return true
}

// rebeam takes all beams away, and breaks systems elsewhere.
func rebeam(d *Draft) bool {
	for _, e := range d.Doc.FindElements("//note/beam") {
		drop(e)
	}
	for i, m := range d.Doc.FindElements("//measure") {
		if i%3 == 1 && m.SelectElement("print") == nil {
			p := etree.NewElement("print")
			p.CreateAttr("new-system", "yes")
			m.InsertChildAt(0, p)
		}
	}
	return true
}
