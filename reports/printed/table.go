package printed

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
)

const (
	tableSize = 8.5
	leastSize = 6.5
	tableLine = 4.2
	gap       = 3.0 // between columns
	rowGap    = 0.6
	headGap   = 0.8 // below the line under its head
)

// cell is what stands in a place of a table.
type cell struct {
	words, style, align string
}

// table sets rows under each other; the widest columns give way until all fit.
func (s *sheet) table(t *extast.Table) {
	var rows [][]cell
	for r := t.FirstChild(); r != nil; r = r.NextSibling() {
		var row []cell
		for c := r.FirstChild(); c != nil; c = c.NextSibling() {
			one := cell{words: s.words(c), align: "L", style: styleOf(c)}
			if k := len(row); k < len(t.Alignments) && t.Alignments[k] == extast.AlignRight {
				one.align = "R"
			}
			if r.Kind() == extast.KindTableHeader {
				one.style = "B"
			}
			row = append(row, one)
		}
		rows = append(rows, row)
	}
	size := tableSize
	widths, whole := s.widths(rows, size)
	for ; !whole && size > leastSize; widths, whole = s.widths(rows, size) { // rather smaller than with broken words
		size -= 0.5
	}
	left, _, _, _ := s.f.GetMargins()
	_, height := s.f.GetPageSize()
	lines, tall := make([]int, len(rows)), 0.0
	for k, row := range rows {
		lines[k] = 1
		for c, one := range row {
			s.f.SetFont(family, one.style, size)
			lines[k] = max(lines[k], len(s.f.SplitText(one.words, widths[c])))
		}
		tall += float64(lines[k])*tableLine + rowGap
	}
	// A table that finds room on one sheet stands on one; of a longer one each sheet begins with its head.
	onOne := tall+headGap <= height-foot-margin
	if onOne && s.f.GetY()+tall+headGap > height-foot {
		s.f.AddPage()
	}
	set := func(k int) {
		top, x := s.f.GetY(), left
		for c, one := range rows[k] {
			s.f.SetXY(x, top)
			s.f.SetFont(family, one.style, size)
			s.f.MultiCell(widths[c], tableLine, one.words, "", one.align, false)
			x += widths[c] + gap
		}
		s.f.SetXY(left, top+float64(lines[k])*tableLine+rowGap)
		if k == 0 {
			s.f.Line(left, s.f.GetY(), x-gap, s.f.GetY())
			s.f.SetY(s.f.GetY() + headGap)
		}
	}
	for k := range rows {
		if s.f.GetY()+float64(lines[k])*tableLine > height-foot {
			s.f.AddPage()
			if k > 0 {
				set(0)
			}
		}
		set(k)
	}
	s.f.Ln(lineHeight / 2)
}

// styleOf is the style of all of a cell: of a specimen of digits.
func styleOf(c ast.Node) string {
	out := ""
	for n := c.FirstChild(); n != nil && n == c.LastChild(); n = n.FirstChild() {
		if e, ok := n.(*ast.Emphasis); ok && e.Level > 1 {
			out = "B" + out
		} else if ok {
			out += "I"
		}
	}
	return out
}

// widths gives the columns the room of the page: as wide as their cells, and where that is too much columns of figures give way
// first, whose heads are wider than they, then the widest, first down to their longest words; whole says that no word is broken. Widths are in millimetres, size in points.
func (s *sheet) widths(rows [][]cell, size float64) (out []float64, whole bool) {
	page, _ := s.f.GetPageSize()
	left, _, right, _ := s.f.GetMargins()
	var words []float64
	for _, row := range rows {
		for c, one := range row {
			s.f.SetFont(family, one.style, size)
			w := s.f.GetStringWidth(one.words) + 2.5
			if c == len(out) {
				out, words = append(out, w), append(words, 0)
			}
			out[c] = max(out[c], w)
			for _, word := range strings.Fields(one.words) {
				words[c] = max(words[c], s.f.GetStringWidth(word)+2.5)
			}
		}
	}
	room := page - left - right - gap*float64(len(out)-1)
	whole = true
	easeOf := func(c int) int {
		switch loose := out[c]-1 >= words[c]; {
		case loose && rows[0][c].align == "R":
			return 2
		case loose:
			return 1
		}
		return 0
	}
	for {
		sum, widest := 0.0, 0
		for c := range out {
			sum += out[c]
			ease, most := easeOf(c), easeOf(widest)
			if ease > most || ease == most && out[c] > out[widest] {
				widest = c
			}
		}
		if sum <= room || out[widest] < 8 {
			return out, whole
		}
		whole = whole && out[widest]-1 >= words[widest]
		out[widest]--
	}
}
