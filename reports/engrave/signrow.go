package engrave

import (
	"strings"

	"github.com/beevik/etree"
)

// rowRoom is what the bracket of a sign's digits takes beyond them.
const rowRoom = 80.0

// isRow says that a fingering is the row of a sign, "2 3" over a trill.
func isRow(text *etree.Element) bool {
	written := ""
	for _, span := range text.FindElements(".//tspan") {
		written += span.Text()
	}
	return strings.Contains(strings.TrimSpace(written), " ")
}

// bracketRow sets a bracket over the digits of a sign: what stands at the height of other digits is read as theirs.
func bracketRow(sign *etree.Element, below bool) {
	text := sign.SelectElement("text")
	if text == nil || !isRow(text) {
		return
	}
	letters, size := measured(text)
	x, y, half := number(text, "x"), number(text, "y"), size*digitHalf*float64(letters)
	edge, tick := y-size*digitHeight-60, 50.0
	if below {
		edge, tick = y+70, -50
	}
	bracket := sign.CreateElement("path")
	bracket.CreateAttr("class", "of-sign")
	bracket.CreateAttr("d", "M"+rounded(x-half)+" "+rounded(edge+tick)+"L"+rounded(x-half)+" "+rounded(edge)+
		"L"+rounded(x+half)+" "+rounded(edge)+"L"+rounded(x+half)+" "+rounded(edge+tick))
	bracket.CreateAttr("fill", "none")
	bracket.CreateAttr("stroke", "currentColor")
	bracket.CreateAttr("stroke-width", "16")
}
