package engrave

import (
	"math"
	"slices"

	"github.com/beevik/etree"
)

// liftSigns moves trills, mordents and turns over the digit of the note before or behind, where that stands close beside them at
// one height: sign and digit are read as one. The sign's own digits are moved out of its way later.
func liftSigns(inner *etree.Element, glyphs glyphBoxes, digits []*movable, obstacles []box) {
	const (
		beside = 110.0 // closer than this at one height
		most   = 2.5 * staffSpace
	)
	for _, g := range inner.FindElements(".//g") {
		if class := firstClass(g); class != "trill" && class != "mordent" && class != "turn" {
			continue
		}
		uses := g.FindElements(".//use")
		if len(uses) == 0 {
			continue
		}
		var sign box
		for i, use := range uses {
			b, ok := glyphs.of(use)
			if !ok {
				sign = box{}
				break
			}
			if i == 0 {
				sign = b
			}
			sign = sign.around(b)
		}
		if sign == (box{}) {
			continue
		}
		middle, wide := (sign.left+sign.right)/2, sign
		wide.left, wide.right = wide.left-beside, wide.right+beside
		dy := 0.0
		for _, d := range digits {
			// Not its own digits, which stand over it.
			if d.step > 0 || math.Abs((d.left+d.right)/2-middle) < 0.8*staffSpace || !d.meets(wide) || d.head < sign.bottom {
				continue
			}
			dy = min(dy, d.top-20-sign.bottom)
		}
		moved := sign.by(dy)
		if dy == 0 || -dy > most || slices.ContainsFunc(obstacles, func(o box) bool { return o.meets(moved) && !o.meets(sign) }) {
			continue
		}
		for _, use := range uses {
			x, y, _ := placeOf(use)
			use.CreateAttr("transform", placed.ReplaceAllLiteralString(use.SelectAttrValue("transform", ""), "translate("+rounded(x)+", "+rounded(y+dy)+")"))
		}
	}
}
