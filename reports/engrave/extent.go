package engrave

import (
	"math"
	"regexp"
	"strings"

	"github.com/beevik/etree"
)

var (
	pathParts = regexp.MustCompile(`([A-Za-z])([^A-Za-z]*)`)
	scaled    = regexp.MustCompile(`scale\(\s*([\d.]+)`)
)

// glyphBoxes knows how far each outline of a drawing reaches about its point, in thousandths of its size, y downwards. Points
// that steer a curve count as reached: an outline is never larger than that.
type glyphBoxes map[string]box

// outlineBoxes measures the outlines of a drawing, before they are taken out of it, and after.
func outlineBoxes(root *etree.Element) glyphBoxes {
	out := glyphBoxes{}
	for _, g := range root.FindElements("./defs/g") {
		b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for _, path := range g.FindElements(".//path") {
			b = b.around(outlineBox(path.SelectAttrValue("d", "")))
		}
		if b.left > b.right {
			continue
		}
		id := g.SelectAttrValue("id", "")
		code, _, _ := strings.Cut(strings.TrimPrefix(id, glyphPrefix), "-")
		out[code] = box{b.left, -b.bottom, b.right, -b.top} // its y axis points upwards
	}
	return out
}

// around is the smallest box about both.
func (b box) around(o box) box {
	return box{min(b.left, o.left), min(b.top, o.top), max(b.right, o.right), max(b.bottom, o.bottom)}
}

// outlineBox gives the box of a path in the commands that fonts use: absolute M, L, H, V, and those relative to where it stands.
func outlineBox(d string) box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	x, y := 0.0, 0.0
	reach := func(px, py float64) { b = b.around(box{px, py, px, py}) }
	for _, part := range pathParts.FindAllStringSubmatch(d, -1) {
		command, p := part[1], numbersOf(part[2])
		relative := command == strings.ToLower(command)
		switch strings.ToUpper(command) {
		case "H", "V":
			for _, v := range p {
				at := &x
				if strings.ToUpper(command) == "V" {
					at = &y
				}
				if relative {
					v += *at
				}
				*at = v
				reach(x, y)
			}
			continue
		}
		size := map[string]int{"M": 2, "L": 2, "T": 2, "S": 4, "Q": 4, "C": 6}[strings.ToUpper(command)]
		for ; size > 0 && len(p) >= size; p = p[size:] {
			fromX, fromY := 0.0, 0.0
			if relative {
				fromX, fromY = x, y
			}
			for k := 0; k < size; k += 2 {
				reach(fromX+p[k], fromY+p[k+1])
			}
			x, y = fromX+p[size-2], fromY+p[size-1]
		}
	}
	return b
}

// of gives the place that a use of an outline takes in a drawing.
func (g glyphBoxes) of(use *etree.Element) (box, bool) {
	x, y, ok := placeOf(use)
	if !ok {
		return box{}, false
	}
	code, _, _ := strings.Cut(strings.TrimPrefix(strings.TrimPrefix(use.SelectAttrValue("href", ""), "#"), glyphPrefix), "-")
	b, known := g[code]
	if !known {
		return box{}, false
	}
	scale := 0.72
	if at := scaled.FindStringSubmatch(use.SelectAttrValue("transform", "")); at != nil {
		scale = numbersOf(at[1])[0]
	}
	return box{x + b.left*scale, y + b.top*scale, x + b.right*scale, y + b.bottom*scale}, true
}

// extentOf is the box of everything drawn in an element.
func extentOf(element *etree.Element, glyphs glyphBoxes) box {
	b := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	pairs := func(p []float64) {
		for k := 0; k+1 < len(p); k += 2 {
			b = b.around(box{p[k], p[k+1], p[k], p[k+1]})
		}
	}
	switch element.Tag {
	case "use":
		if g, ok := glyphs.of(element); ok {
			b = b.around(g)
		}
	case "path":
		pairs(numbersIn(element, "d"))
	case "polygon", "polyline":
		pairs(numbersIn(element, "points"))
	case "text":
		if t := textBox(element); t.right > t.left {
			b = b.around(t)
		}
	case "rect":
		x, y := number(element, "x"), number(element, "y")
		b = b.around(box{x, y, x + number(element, "width"), y + number(element, "height")})
	case "ellipse", "circle":
		x, y, r := number(element, "cx"), number(element, "cy"), max(number(element, "r"), number(element, "rx"))
		b = b.around(box{x - r, y - r, x + r, y + r})
	}
	for _, child := range element.ChildElements() {
		b = b.around(extentOf(child, glyphs))
	}
	return b
}
