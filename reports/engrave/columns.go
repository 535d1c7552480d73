package engrave

import (
	"math"
	"regexp"
	"slices"

	"github.com/beevik/etree"
)

// strokeWide is how far apart the digits of one stroke may be drawn: heads of two voices are set off from each other, those
// of the next stroke are farther.
const strokeWide = 130.0

// ofTwoVoices brings the digits of what two voices strike at once over each other, as its notes stand: the engraver stacks
// them voice by voice.
func ofTwoVoices(digits []*movable) {
	const gap = 1.5 * columnGap // the digit of the other voice may lie between
	done := map[*movable]bool{}
	for _, d := range digits {
		if done[d] {
			continue
		}
		column := []*movable{d}
		for grown := true; grown; {
			grown = false
			for _, other := range digits {
				near := func(c *movable) bool { return math.Abs(other.bottom-c.bottom) < gap }
				if done[other] || other.step != d.step || slices.Contains(column, other) ||
					math.Abs(number(other.text, "x")-number(d.text, "x")) > strokeWide || !slices.ContainsFunc(column, near) {
					continue
				}
				column, grown = append(column, other), true
			}
		}
		for _, c := range column {
			done[c] = true
		}
		if ordered(column) {
			continue
		}
		stack(column)
		asNotesStand(column)
	}
}

// ordered says that the digits of a stroke stand in one column, in the order of their notes.
func ordered(column []*movable) bool {
	for i, a := range column {
		for _, b := range column[i+1:] {
			if math.Abs(number(a.text, "x")-number(b.text, "x")) > 1 || (a.head-b.head)*(a.bottom-b.bottom) < 0 {
				return false
			}
		}
	}
	return true
}

var fermataBelow = regexp.MustCompile(`E4C1$`)

// acrossFermatas closes columns that a fermata tears: the digits stand together at their notes, the fermata outside them. It
// is no obstacle to them.
func acrossFermatas(inner *etree.Element, digits []*movable) {
	const (
		wide = 2.42 * 0.72 * staffSpace // of the sign, as the engraver draws it
		far  = 1200.0
		room = 60.0
	)
	for _, sign := range inner.FindElements(".//g") {
		use := sign.FindElement("use")
		if firstClass(sign) != "fermata" || use == nil {
			continue
		}
		x, y, ok := placeOf(use)
		if !ok {
			continue
		}
		step := -clearStep
		if fermataBelow.MatchString(use.SelectAttrValue("href", "")) {
			step = clearStep
		}
		var column, beyond []*movable
		for _, d := range digits {
			if d.step != step || math.Abs(number(d.text, "x")-x-wide/2) > strokeWide || math.Abs(d.bottom-y) > far {
				continue
			}
			column = append(column, d)
			if (d.bottom-y)*step > 0 {
				beyond = append(beyond, d)
			}
		}
		if len(column) == 0 {
			continue
		}
		slices.SortStableFunc(column, func(a, b *movable) int { return compareBy(a.bottom, b.bottom, step) })
		for i, d := range column {
			if len(beyond) > 0 && len(beyond) < len(column) {
				d.move(column[0].bottom + float64(i)*digitStep*math.Copysign(1, step) - d.bottom)
			}
		}
		last := column[len(column)-1]
		out := last.top - room
		if step > 0 {
			out = last.bottom + room
		}
		if (out-y)*step < 0 { // it stands outside them
			continue
		}
		at := use.SelectAttrValue("transform", "")
		use.CreateAttr("transform", placed.ReplaceAllLiteralString(at, "translate("+rounded(x)+", "+rounded(out)+")"))
	}
}

func compareBy(a, b, step float64) int {
	switch {
	case (a-b)*step < 0:
		return -1
	case a != b:
		return 1
	}
	return 0
}
