package account

import (
	"fmt"
	"html"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/reasons"
	"fingerproof/rules/fingering"
)

// Sizes of the drawing in pixels.
const (
	columnWide, rowHigh = 104, 34
	boxWide, boxHigh    = 64, 24
	margin, headHigh    = 24, 46
)

// LatticeSVG draws the lattice of a measure for the people who work on the engine: a column for each stroke, the best
// grips in it from the cheapest down with what each costs more, and from each the best way on. The cheapest way is
// drawn strong; a double box is what is delivered.
func LatticeSVG(s *score.Score, number string, hands []reasons.HandDrawing, finger func(note int) int) []byte {
	high, wide := margin, 240
	for _, h := range hands {
		rows := 1
		for _, c := range h.Columns {
			rows = max(rows, len(c.Grips))
		}
		high += headHigh + 20 + rows*rowHigh + margin
		wide = max(wide, 2*margin+len(h.Columns)*columnWide)
	}
	var b strings.Builder
	fmt.Fprintf(
		&b,
		`<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" font-family="sans-serif" font-size="11">`+"\n",
		wide, high, wide, high,
	)
	fmt.Fprintf(
		&b, `<title>lattice of m. %s</title><rect width="100%%" height="100%%" fill="#fff"/>`+"\n",
		html.EscapeString(number),
	)
	top := margin
	for _, h := range hands {
		fmt.Fprintf(
			&b, `<text x="%d" y="%d" font-weight="bold">m. %s, %s</text>`+"\n", margin, top, html.EscapeString(number),
			h.Hand.Words(),
		)
		top += 20
		top += drawHand(&b, s, h, top, finger)
	}
	b.WriteString("</svg>\n")
	return []byte(b.String())
}

// drawHand draws one hand from a height on and gives its own height.
func drawHand(b *strings.Builder, s *score.Score, h reasons.HandDrawing, top int, finger func(note int) int) int {
	x := func(column int) int { return margin + column*columnWide }
	y := func(row int) int { return top + headHigh + row*rowHigh }
	rows := 1
	for i, c := range h.Columns {
		rows = max(rows, len(c.Grips))
		for k, g := range c.Grips {
			if g.Next < 0 || i+1 == len(h.Columns) {
				continue
			}
			width, colour := "1", "#bbb"
			if g.Cheapest && h.Columns[i+1].Grips[g.Next].Cheapest {
				width, colour = "3", "#333"
			}
			fmt.Fprintf(
				b, `<line x1="%d" y1="%d" x2="%d" y2="%d" stroke="%s" stroke-width="%s"/>`+"\n", x(i)+boxWide,
				y(k)+boxHigh/2, x(i+1), y(g.Next)+boxHigh/2, colour, width,
			)
		}
	}
	for i, c := range h.Columns {
		var names []string
		for _, n := range c.Struck {
			names = append(names, pitchOf(s, n))
		}
		for _, n := range c.Held {
			names = append(names, "("+pitchOf(s, n)+")")
		}
		fmt.Fprintf(
			b, `<text x="%d" y="%d">%s</text><text x="%d" y="%d" fill="#666">best %d of %d</text>`+"\n", x(i), top+14,
			html.EscapeString(strings.Join(names, " ")), x(i), top+30, len(c.Grips), c.Of,
		)
		for k, g := range c.Grips {
			var digits strings.Builder
			for _, f := range g.Fingers {
				fmt.Fprint(&digits, f)
			}
			stroke := "1"
			if g.Cheapest {
				stroke = "2.5"
			}
			fmt.Fprintf(
				b, `<rect x="%d" y="%d" width="%d" height="%d" rx="3" fill="#fff" stroke="#333" stroke-width="%s"/>`,
				x(i), y(k), boxWide, boxHigh, stroke,
			)
			if delivered(c.Struck, c.Held, g.Fingers, finger) {
				fmt.Fprintf(
					b, `<rect x="%d" y="%d" width="%d" height="%d" rx="5" fill="none" stroke="#333"/>`, x(i)-3, y(k)-3,
					boxWide+6, boxHigh+6,
				)
			}
			fmt.Fprintf(
				b,
				`<text x="%d" y="%d"><tspan font-weight="bold">%s</tspan> <tspan fill="#666">+%s</tspan></text>`+"\n",
				x(i)+5, y(k)+16, digits.String(), amount(g.More),
			)
		}
	}
	return headHigh + rows*rowHigh + margin
}

// delivered reports whether the grip takes what is struck with the fingers delivered, where nothing is held beside it.
func delivered(struck, held []int, fingers []fingering.Finger, finger func(note int) int) bool {
	if len(held) > 0 || len(struck) != len(fingers) {
		return false
	}
	for i, n := range struck {
		if finger(n) != int(fingers[i]) {
			return false
		}
	}
	return true
}

// pitchOf names a note; a stroke that a sign adds has no note of its own.
func pitchOf(s *score.Score, n int) string {
	if n >= len(s.Notes) {
		return "sign"
	}
	return s.Notes[n].Pitch.String()
}
