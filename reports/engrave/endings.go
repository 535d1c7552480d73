package engrave

import (
	"github.com/beevik/etree"
)

// clearEndings moves the brackets of endings up, those at one height together, so far that neither their lines nor their numbers
// lie over digits or words (trial 15b-13). It gives how far above the drawing's upper edge one lies now.
func clearEndings(inner *etree.Element, walls []box, others ...[]box) (above float64) {
	const room = 40.0
	type ending struct {
		element *etree.Element
		boxes   []box
	}
	rows := map[float64][]ending{}
	for _, g := range inner.FindElements(".//g[@class='voltaBracket']") {
		e, top := ending{element: g}, 0.0
		for i, path := range g.SelectElements("path") {
			p := numbersIn(path, "d")
			if len(p) != 4 {
				continue
			}
			if i == 0 { // the engraver draws the line first, then the hooks
				top = p[1]
			}
			e.boxes = append(e.boxes, box{min(p[0], p[2]) - room, min(p[1], p[3]) - room, max(p[0], p[2]) + room, max(p[1], p[3]) + room})
		}
		for _, text := range g.SelectElements("text") {
			number := textBox(text)
			number.right += 0.7 * staffSpace // what stands close beside it is read with it
			e.boxes = append(e.boxes, number)
		}
		rows[top] = append(rows[top], e)
	}
	for _, row := range rows { // each by itself
		up := 0.0
		for again := true; again; { // what is moved may meet the next
			again = false
			for _, e := range row {
				for _, b := range e.boxes {
					if dy := free(b.by(up), -clearStep, walls, others...); dy != 0 {
						up, again = up+dy, true
					}
				}
			}
		}
		for _, e := range row {
			for _, b := range e.boxes {
				above = max(above, -b.top-up)
			}
			if up != 0 {
				raise(e.element, up)
			}
		}
	}
	return above
}

// raise moves the lines and texts of a sign by so much; up is negative.
func raise(sign *etree.Element, dy float64) {
	for _, path := range sign.SelectElements("path") {
		if p := numbersIn(path, "d"); len(p) == 4 {
			path.CreateAttr("d", "M"+rounded(p[0])+" "+rounded(p[1]+dy)+" L"+rounded(p[2])+" "+rounded(p[3]+dy))
		}
	}
	for _, text := range sign.SelectElements("text") {
		for _, e := range append(text.FindElements(".//tspan"), text) {
			if e.SelectAttr("y") != nil {
				e.CreateAttr("y", rounded(number(e, "y")+dy))
			}
		}
	}
}
