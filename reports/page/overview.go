package page

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
)

// Measures of the strip of the piece, in units of its drawing.
const (
	courseWidth = 960
	courseRow   = 22
	numberRoom  = 24 // of the number of a measure
)

// course draws the piece from its first measure to its last: what is left to judge and what is decided, a row for
// each hand. Height and hatching say the same as the colour. Every mark leads to its passage.
func (m *Material) course(judge []passageView) template.HTML {
	measures := m.Result.Summary.Measures
	if measures == 0 {
		return ""
	}
	x := func(measure int) int { return measure * courseWidth / measures }
	row := func(h score.Hand) int {
		switch h {
		case score.Left:
			return courseRow + 4
		case score.NoHand: // of the text: between both
			return courseRow/2 + 2
		}
		return 0
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="course" viewBox="0 0 %d %d" role="group" `+
		`aria-label="the piece from beginning to end: what is left to judge">`, courseWidth, 2*courseRow+20)
	for _, h := range []score.Hand{score.Right, score.Left} {
		base := row(h) + courseRow
		fmt.Fprintf(&b, `<line class="base" x1="0" x2="%d" y1="%d" y2="%d"/>`, courseWidth, base, base)
		for _, span := range decidedSpans(m.Result, m.Open, h) {
			fmt.Fprintf(&b, `<rect class="decided" x="%d" y="%d" width="%d" height="3"/>`,
				x(span[0]), base-3, max(x(span[1]+1)-x(span[0])-1, 1))
		}
	}
	for i := range judge {
		p := &judge[i]
		left, width := x(p.First), max(x(p.Last+1)-x(p.First)-1, 3)
		base := row(p.Hand) + courseRow
		said := template.HTMLEscapeString(fmt.Sprintf("passage %d, %s, %s: %s", p.Number, p.Place, p.HandName, p.Brief))
		fmt.Fprintf(&b, `<a href="#p%d" tabindex="-1" class="of %s" data-number="%d" aria-label="%s"><title>%s</title>`,
			p.Number, p.KindName, p.Number, said, said)
		switch p.KindName {
		case kindHandover:
			fmt.Fprintf(&b, `<path class="stretch" d="M%d %dl6 9h-12z"/>`, left+width/2, base-courseRow)
		case kindFirm:
			fmt.Fprintf(&b, `<rect class="stretch" x="%d" y="%d" width="%d" height="9"/>`, left, base-9, width)
		default:
			fmt.Fprintf(&b, `<rect class="stretch" x="%d" y="%d" width="%d" height="18"/>`, left, base-18, width)
		}
		fmt.Fprintf(&b, `<path class="tick" d="M%d %dh%d"/>`, left, base-2, width)
		for k := range p.Goes { // lower: it is judged with the passage
			g := &p.Goes[k]
			left, width := x(g.First), max(x(g.Last+1)-x(g.First)-1, 3)
			fmt.Fprintf(&b, `<rect class="stretch" x="%d" y="%d" width="%d" height="5"/><path class="tick" d="M%d %dh%d"/>`, left, base-5, width, left, base-2, width)
		}
		b.WriteString(`</a>`)
	}
	numbers := measureNumbers(m.Result)
	every := max(1, measures/16)
	for i := 0; i < measures; i += every {
		at, anchor := x(i), ""
		if at > courseWidth-numberRoom { // whole at the edge
			at, anchor = courseWidth, ` text-anchor="end"`
		}
		fmt.Fprintf(&b, `<text x="%d" y="%d"%s>%s</text>`, at, 2*courseRow+17, anchor, template.HTMLEscapeString(numbers[i]))
	}
	b.WriteString("</svg>")
	return template.HTML(b.String()) //nolint:gosec // numbers and escaped text
}

// decidedSpans lists the runs of measures of a hand in which digits print and every one of them is decided.
func decidedSpans(r *state.Result, open []int, h score.Hand) (out [][2]int) {
	decided := func(n state.Note) bool { return n.Hand == h && n.Responsibility == score.Editor }
	if !slices.ContainsFunc(r.Notes, decided) { // as at first of every page
		return nil
	}
	left, some := map[int]bool{}, map[int]bool{}
	isOpen := map[int]bool{}
	for _, n := range open {
		isOpen[n] = true
	}
	for i := range r.Notes {
		n := &r.Notes[i]
		switch {
		case n.Hand != h || n.Tied:
		case isOpen[n.N]:
			left[n.MeasureIndex] = true
		case n.Responsibility == score.Editor:
			some[n.MeasureIndex] = true
		}
	}
	for i := range r.Summary.Measures {
		if !some[i] || left[i] {
			continue
		}
		if k := len(out) - 1; k >= 0 && out[k][1] == i-1 {
			out[k][1] = i
			continue
		}
		out = append(out, [2]int{i, i})
	}
	return out
}

// sureTo is the least confidence among the digits that a passage asks about, in percent; 100 where nothing is in doubt.
func (m *Material) sureTo(p *review.Passage, notes state.ByNumber) int {
	least := 100
	for _, list := range [2][]int{p.Notes, p.Doubts} {
		for _, n := range list {
			if c := notes.Of(n); c != nil && c.Confidence != nil && !c.Tied {
				least = min(least, int(*c.Confidence))
			}
		}
	}
	return least
}
