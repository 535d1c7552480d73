package engrave

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/beevik/etree"
)

var staffLine = regexp.MustCompile(`^M\s*(-?[\d.]+)[ ,]+(-?[\d.]+)\s+L\s*(-?[\d.]+)[ ,]+(-?[\d.]+)$`)

// viewed reads a viewBox.
func viewed(text string) (box, bool) {
	var x, y, w, h float64
	if _, err := fmt.Sscanf(text, "%g %g %g %g", &x, &y, &w, &h); err != nil || w <= 0 || h <= 0 {
		return box{}, false
	}
	return box{x, y, x + w, y + h}, true
}

// view writes a box as a viewBox.
func (b box) view() string {
	return fmt.Sprintf("%s %s %s %s", rounded(b.left), rounded(b.top), rounded(b.right-b.left), rounded(b.bottom-b.top))
}

// crop cuts a picture to where its longest system ends: the engraver makes the paper as wide as a system may be, and a single
// measure would stand in a wide blank. Texts that hang over the end stay on the paper.
func (p *picture) crop() {
	end := 0.0
	for _, line := range p.inner.FindElements(".//g[@class='staff']/path") {
		if at := staffLine.FindStringSubmatch(line.SelectAttrValue("d", "")); at != nil && at[2] == at[4] {
			right, _ := strconv.ParseFloat(at[3], 64)
			end = max(end, right)
		}
	}
	scale := (p.inside.right - p.inside.left) / (p.outer.right - p.outer.left)
	margin := pageMargin * scale
	if end == 0 || end+2*margin >= p.inside.right-p.inside.left {
		return
	}
	for _, text := range p.inner.FindElements(".//text") {
		letters, size := measured(text)
		end = max(end, number(text, "x")+0.55*size*float64(letters))
	}
	p.inside.right = min(p.inside.left+end+2*margin, p.inside.right)
	p.outer.right = p.outer.left + (p.inside.right-p.inside.left)/scale
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

// higher gives a picture so much more room above what is drawn.
func (p *picture) higher(more float64) {
	if more <= 0 {
		return
	}
	scale := (p.inside.right - p.inside.left) / (p.outer.right - p.outer.left)
	p.inside.top -= more
	p.outer.bottom += more / scale
}
