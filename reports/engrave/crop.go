package engrave

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/beevik/etree"
)

var staffLine = regexp.MustCompile(`^M\s*(-?[\d.]+)[ ,]+(-?[\d.]+)\s+L\s*(-?[\d.]+)[ ,]+(-?[\d.]+)$`)

// cropped gives the viewBoxes of a picture, outer and inner, cut to where its longest system ends: the engraver makes
// the paper as wide as a system may be, and a single measure would stand in a wide blank. Texts that hang over the
// end stay on the paper.
func cropped(inner *etree.Element, outerWidth, height float64) (outer, inside string, width float64) {
	var x, y, w, h float64
	box := inner.SelectAttrValue("viewBox", "")
	if _, err := fmt.Sscanf(box, "%g %g %g %g", &x, &y, &w, &h); err != nil || w <= 0 || outerWidth <= 0 {
		return fmt.Sprintf("0 0 %g %g", outerWidth, height), box, outerWidth
	}
	end := 0.0
	for _, line := range inner.FindElements(".//g[@class='staff']/path") {
		if at := staffLine.FindStringSubmatch(line.SelectAttrValue("d", "")); at != nil && at[2] == at[4] {
			right, _ := strconv.ParseFloat(at[3], 64)
			end = max(end, right)
		}
	}
	margin := pageMargin * w / outerWidth
	if end == 0 || end+2*margin >= w {
		return fmt.Sprintf("0 0 %g %g", outerWidth, height), box, outerWidth
	}
	for _, text := range inner.FindElements(".//text") {
		letters, size := measured(text)
		end = max(end, number(text, "x")+0.55*size*float64(letters))
	}
	right := min(end+2*margin, w)
	width = outerWidth * right / w
	return fmt.Sprintf("0 0 %s %g", rounded(width), height), fmt.Sprintf("%g %g %s %g", x, y, rounded(right), h), width
}

// measured gives the number of letters of a text and their size.
func measured(text *etree.Element) (letters int, size float64) {
	size = 300
	for _, span := range text.FindElements(".//tspan") {
		letters += len([]rune(strings.TrimSpace(span.Text())))
		if match := fontSize.FindStringSubmatch(span.SelectAttrValue("font-size", "")); match != nil &&
			match[1] != "0" {
			size, _ = strconv.ParseFloat(match[1], 64)
		}
	}
	return letters, size
}

// higher gives viewBoxes, outer and inner, with so much more room above what is drawn.
func higher(outer, inner string, outerHeight, more float64) (string, string, float64) {
	var x, y, w, h, x2, y2, w2, h2 float64
	if _, err := fmt.Sscanf(outer, "%g %g %g %g", &x, &y, &w, &h); err != nil || more <= 0 {
		return outer, inner, outerHeight
	}
	if _, err := fmt.Sscanf(inner, "%g %g %g %g", &x2, &y2, &w2, &h2); err != nil || w2 <= 0 {
		return outer, inner, outerHeight
	}
	h += more * w / w2
	return fmt.Sprintf("%g %g %g %s", x, y, w, rounded(h)), fmt.Sprintf("%g %s %g %s", x2, rounded(y2-more), w2, rounded(h2+more)), h
}

// fitted gives viewBoxes, outer and inner, that end below the last that stands on a page: the last page of a piece is not full,
// and digits that were moved may stand lower than the engraver had them.
func fitted(inner *etree.Element, outer, inside string, outerHeight float64) (string, string, float64) {
	var x, y, w, h, x2, y2, w2, h2 float64
	if _, err := fmt.Sscanf(outer, "%g %g %g %g", &x, &y, &w, &h); err != nil {
		return outer, inside, outerHeight
	}
	if _, err := fmt.Sscanf(inside, "%g %g %g %g", &x2, &y2, &w2, &h2); err != nil || w2 <= 0 {
		return outer, inside, outerHeight
	}
	_, edges := obstaclesOf(inner)
	edges = append(edges, stavesOf(inner)...)
	for _, text := range inner.FindElements(".//text") {
		edges = append(edges, textBox(text))
	}
	for _, use := range inner.FindElements(".//use") {
		if at, below, ok := placeOf(use); ok {
			edges = append(edges, box{at, below, at, below + 2*staffSpace})
		}
	}
	bottom := 0.0
	for _, e := range edges {
		bottom = max(bottom, e.bottom)
	}
	const margins = 15 * pageMargin // in the units of the drawing: it begins ten of them down the page
	if bottom += margins; bottom <= margins {
		return outer, inside, outerHeight
	}
	h *= bottom / h2
	return fmt.Sprintf("%g %g %g %s", x, y, w, rounded(h)), fmt.Sprintf("%g %g %g %s", x2, y2, w2, rounded(bottom)), h
}
