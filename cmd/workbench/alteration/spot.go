package alteration

import (
	"strconv"

	"github.com/beevik/etree"

	"fingerproof/corpus/score"
)

// spot is a moment of a part, counted from the elements themselves: the
// measure, and quarters from its beginning.
type spot struct {
	measure *etree.Element
	onset   score.Fraction
	end     bool // the right barline
}

// divisionsAt gives the divisions in force at a measure.
func divisionsAt(m *etree.Element) int64 {
	out := int64(1)
	for _, other := range m.Parent().SelectElements("measure") {
		for _, d := range other.FindElements("attributes/divisions") {
			if n, err := strconv.ParseInt(d.Text(), 10, 64); err == nil && n > 0 {
				out = n
			}
		}
		if other == m {
			break
		}
	}
	return out
}

// spotOf walks a measure up to one of its children.
func spotOf(child *etree.Element) spot {
	m := child.Parent()
	unit := divisionsAt(m)
	var at, head score.Fraction
	long := func(e *etree.Element) score.Fraction {
		n, _ := strconv.ParseInt(e.SelectElement("duration").Text(), 10, 64)
		return score.Frac(n, unit)
	}
	for _, e := range m.ChildElements() {
		chord := e.Tag == "note" && e.SelectElement("chord") != nil
		if e == child {
			if chord {
				at = head
			}
			break
		}
		if e.SelectElement("duration") == nil {
			continue
		}
		switch {
		case e.Tag == "backup":
			at = at.Sub(long(e))
		case e.Tag == "forward":
			at = at.Add(long(e))
		case e.Tag == "note" && !chord:
			head = at
			at = at.Add(long(e))
		}
	}
	if o := child.SelectElement("offset"); o != nil {
		n, _ := strconv.ParseInt(o.Text(), 10, 64)
		at = at.Add(score.Frac(n, unit))
	}
	return spot{measure: m, onset: at}
}

// childOfMeasure gives the child of a measure that holds an element.
func childOfMeasure(e *etree.Element) *etree.Element {
	for e.Parent() != nil && e.Parent().Tag != "measure" {
		e = e.Parent()
	}
	return e
}
