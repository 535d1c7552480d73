package engrave

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/beevik/etree"
)

// The note of a metronome mark is drawn: a reader's text fonts have a crotchet and a quaver and no more, and what they have of
// the others stands where it likes (trial 15a-13: a minim upon the words and the equals sign).

// noteValue is how a note of a metronome mark looks.
type noteValue struct {
	hollow, stem bool
	flags        int
}

// metronomeNotes are the notes by the code points that the engraver sets in text (SMuFL, as symbolTexts).
var metronomeNotes = map[rune]noteValue{
	0xECA2: {hollow: true}, 0xECA3: {hollow: true, stem: true}, 0xECA5: {stem: true}, 0xECA7: {stem: true, flags: 1},
	0xECA9: {stem: true, flags: 2}, 0xECAB: {stem: true, flags: 3},
	0xE1D2: {hollow: true}, 0xE1D3: {hollow: true, stem: true}, 0xE1D5: {stem: true}, 0xE1D7: {stem: true, flags: 1},
	0xE1D9: {stem: true, flags: 2}, 0xE1DB: {stem: true, flags: 3},
}

func isMetronomeDot(r rune) bool { return r == 0xECB7 || r == 0xE1E7 }

// drawMetronome takes the text of a tempo mark apart at its notes and draws these between. Words before the first note end
// where it begins, those behind a note begin where it ends, so that neither hangs on the width of a reader's letters.
func drawMetronome(mark *etree.Element) {
	for _, text := range mark.SelectElements("text") {
		line, size, plain := textLine(text)
		if !plain || !strings.ContainsFunc(line, func(r rune) bool { _, ok := metronomeNotes[r]; return ok }) {
			continue
		}
		x, y := number(text, "x"), number(text, "y")
		var drawn []*etree.Element
		words := func(written string) {
			trimmed := strings.TrimSpace(written)
			wide := letterWidth(written) * size
			if trimmed != "" {
				at, anchor := x, ""
				if len(drawn) == 0 {
					at, anchor = x+letterWidth(trimmed)*size, "end"
				} else {
					at += letterWidth(" ") * size
				}
				drawn = append(drawn, textAt(text, at, y, anchor, size, trimmed))
				wide = (letterWidth(trimmed) + letterWidth(" ")) * size
				if anchor == "" {
					wide += letterWidth(" ") * size
				}
			}
			x += wide
		}
		before := ""
		for _, r := range line {
			note, ok := metronomeNotes[r]
			switch {
			case ok:
				words(before)
				shape, wide := note.shape(x, y, size)
				drawn, x, before = append(drawn, shape), x+wide, ""
			case isMetronomeDot(r):
				x += 0.13 * size
				drawn = append(drawn, filled(x, y-0.17*size, 0.08*size))
				x, before = x+0.08*size, ""
			default:
				before += string(r)
			}
		}
		words(before)
		for _, e := range drawn {
			mark.AddChild(e)
		}
		mark.RemoveChild(text)
	}
}

// textLine gives a text in one line and the size of its words; plain is false where parts of it have places of their own.
func textLine(text *etree.Element) (line string, size float64, plain bool) {
	size = 300
	line = text.Text()
	for _, span := range spansOf(text) {
		if span.SelectAttr("x") != nil || span.SelectAttr("y") != nil || span.SelectAttr("dy") != nil {
			return "", 0, false
		}
		own := span.Text()
		line += own
		match := fontSize.FindStringSubmatch(span.SelectAttrValue("font-size", ""))
		if match != nil && match[1] != "0" && strings.TrimSpace(own) != "" && !strings.ContainsFunc(own, isMusicSymbol) {
			size, _ = strconv.ParseFloat(match[1], 64)
		}
	}
	return line, size, text.SelectAttr("text-anchor") == nil && strings.TrimSpace(line) != ""
}

// spansOf gives the parts of a text in the order of reading.
func spansOf(text *etree.Element) (out []*etree.Element) {
	for _, span := range text.SelectElements("tspan") {
		out = append(append(out, span), spansOf(span)...)
	}
	return out
}

// letterWidth is about how wide words are in a bold text font, in sizes of it.
func letterWidth(words string) (wide float64) {
	for _, r := range words {
		switch {
		case strings.ContainsRune(" \u00a0.,;:il'!jtf()[]", r):
			wide += 0.29
		case strings.ContainsRune("mwMW", r):
			wide += 0.85
		case 'A' <= r && r <= 'Z':
			wide += 0.7
		default:
			wide += 0.5
		}
	}
	return wide
}

// textAt is words at a place, else as a text is.
func textAt(like *etree.Element, x, y float64, anchor string, size float64, written string) *etree.Element {
	text := etree.NewElement("text")
	for _, attribute := range like.Attr {
		text.CreateAttr(attribute.Key, attribute.Value)
	}
	text.CreateAttr("x", rounded(x))
	text.CreateAttr("y", rounded(y))
	if anchor != "" {
		text.CreateAttr("text-anchor", anchor)
	}
	text.CreateAttr("font-size", "0px")
	span := text.CreateElement("tspan")
	span.CreateAttr("class", "text")
	span.CreateAttr("font-size", rounded(size)+"px")
	span.SetText(written)
	return text
}

func filled(x, y, radius float64) *etree.Element {
	dot := etree.NewElement("ellipse")
	for name, value := range map[string]float64{"cx": x, "cy": y, "rx": radius, "ry": radius} {
		dot.CreateAttr(name, rounded(value))
	}
	dot.SortAttrs()
	return dot
}

// shape draws a note that stands on a line of text, and says how wide it is. A head is a little lower than small letters, and
// the stem reaches a little above capitals.
func (n noteValue) shape(x, y, size float64) (shape *etree.Element, wide float64) {
	shape = etree.NewElement("g")
	shape.CreateAttr("class", "metronome")
	rx, ry, line := 0.23*size, 0.165*size, 0.08*size
	cx, cy := x+rx, y-0.16*size
	head := shape.CreateElement("ellipse")
	head.CreateAttr("transform", fmt.Sprintf("translate(%s, %s) rotate(-22)", rounded(cx), rounded(cy)))
	if n.hollow {
		head.CreateAttr("rx", rounded(rx-line/2))
		head.CreateAttr("ry", rounded(ry-line/2))
		head.CreateAttr("fill", "none")
		head.CreateAttr("stroke-width", rounded(line))
	} else {
		head.CreateAttr("rx", rounded(rx))
		head.CreateAttr("ry", rounded(ry))
	}
	wide = 2 * rx
	if !n.stem {
		return shape, wide
	}
	stem := x + 2*rx - line/2
	top := y - 1.1*size
	path := shape.CreateElement("path")
	path.CreateAttr("d", fmt.Sprintf("M%s %s L%s %s", rounded(stem), rounded(cy-0.04*size), rounded(stem), rounded(top)))
	path.CreateAttr("stroke-width", rounded(0.6*line))
	for i := range n.flags {
		at := top + 0.22*size*float64(i)
		flag := shape.CreateElement("path")
		flag.CreateAttr("d", fmt.Sprintf("M%s %s c%s %s %s %s %s %s c%s %s %s %s %s %s z", rounded(stem), rounded(at),
			rounded(0.02*size), rounded(0.24*size), rounded(0.36*size), rounded(0.3*size), rounded(0.2*size), rounded(0.66*size),
			rounded(0.06*size), rounded(-0.26*size), rounded(-0.08*size), rounded(-0.36*size), rounded(-0.2*size), rounded(-0.42*size)))
	}
	if n.flags > 0 {
		wide += 0.2 * size
	}
	return shape, wide
}
