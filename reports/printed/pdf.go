package printed

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"github.com/go-fonts/dejavu/dejavuserif"
	"github.com/go-fonts/dejavu/dejavuserifbold"
	"github.com/go-fonts/dejavu/dejavuserifbolditalic"
	"github.com/go-fonts/dejavu/dejavuserifitalic"
	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"
)

// What a sheet looks like, in millimetres and points.
const (
	margin     = 22.0
	foot       = 20.0
	textSize   = 10.0
	lineHeight = 5.0
	family     = "serif"

	headingLine  = 0.5 // millimetres of a heading's line for a point of its size
	belowHeading = 1.5
	linesKept    = 3 // of what stands below a heading, on its sheet
)

// PDF is the text on sheets of A4, its letters embedded, with numbers of pages
// and bookmarks. No other program is needed. Equal texts give equal bytes.
func PDF(t Text) ([]byte, error) {
	f := fpdf.New("P", "mm", "A4", "")
	f.SetCatalogSort(true)
	f.SetCreationDate(time.Unix(0, 0).UTC()) // a date would make each file another
	f.SetModificationDate(time.Unix(0, 0).UTC())
	f.SetTitle(t.Title, true)
	f.SetLang(t.Language)
	for style, font := range map[string][]byte{
		"": dejavuserif.TTF, "B": dejavuserifbold.TTF, "I": dejavuserifitalic.TTF, "BI": dejavuserifbolditalic.TTF,
	} {
		f.AddUTF8FontFromBytes(family, style, font)
	}
	f.SetMargins(margin, margin, margin)
	f.SetAutoPageBreak(true, foot)
	f.SetFooterFunc(func() {
		f.SetY(-foot / 1.5)
		f.SetFont(family, "", 8)
		f.CellFormat(0, 4, fmt.Sprint(f.PageNo()), "", 0, "C", false, 0, "")
	})
	f.AddPage()
	s := &sheet{f: f, source: t.Markdown}
	doc := withoutImages(parse(t.Markdown))
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		s.block(n)
	}
	var out bytes.Buffer
	if err := f.Output(&out); err != nil {
		return nil, fmt.Errorf("setting %s as PDF: %w", t.Title, err)
	}
	return out.Bytes(), nil
}

// sheet sets one block of text under the other.
type sheet struct {
	f      *fpdf.Fpdf
	source []byte
	level  int // of the last heading
}

func (s *sheet) block(n ast.Node) {
	switch b := n.(type) {
	case *ast.Heading:
		size := headingSize(b)
		if _, height := s.f.GetPageSize(); s.f.GetY() > margin+1 && s.f.GetY()+s.withText(b) > height-foot {
			s.f.AddPage() // no heading stands at the foot of a sheet
		}
		if s.f.GetY() > margin+1 {
			s.f.Ln(size / 4)
		}
		level := min(b.Level-1, s.level+1) // a bookmark lies one step below the one before it at most
		s.f.Bookmark(s.words(b), level, -1)
		s.level = level
		s.f.SetFont(family, "B", size)
		s.f.MultiCell(0, size*headingLine, s.words(b), "", "L", false)
		s.f.Ln(belowHeading)
	case *ast.Paragraph, *ast.TextBlock:
		s.inline(n, "")
		s.f.Ln(lineHeight)
		if n.Kind() == ast.KindParagraph {
			s.f.Ln(lineHeight / 2.5)
		}
	case *ast.List:
		number := b.Start
		for item := b.FirstChild(); item != nil; item = item.NextSibling() {
			left, _, _, _ := s.f.GetMargins()
			mark := "–"
			if b.IsOrdered() {
				mark = fmt.Sprintf("%d.", number)
				number++
			}
			s.f.SetFont(family, "", textSize)
			s.f.SetX(left)
			s.f.CellFormat(6, lineHeight, mark, "", 0, "L", false, 0, "")
			s.indented(6, item)
		}
		s.f.Ln(lineHeight / 2.5)
	case *extast.Table:
		s.table(b)
	case *ast.Blockquote:
		s.indented(6, n)
	case *ast.ThematicBreak:
		s.f.Ln(lineHeight)
	case *ast.FencedCodeBlock, *ast.CodeBlock:
		s.f.SetFont(family, "", textSize)
		s.f.MultiCell(0, lineHeight, set(string(n.Lines().Value(s.source))), "", "L", false)
	}
}

// headingSize is the size of a heading's letters, in points.
func headingSize(h *ast.Heading) float64 {
	switch h.Level {
	case 1:
		return 17
	case 2:
		return 13
	}
	return 10.5
}

// withText is how much room a heading wants for itself, for the headings that follow it at once, and for the first lines
// of what stands below them, in millimetres.
func (s *sheet) withText(h *ast.Heading) float64 {
	room := 0.0
	width, _ := s.f.GetPageSize()
	left, _, right, _ := s.f.GetMargins()
	for n := ast.Node(h); n != nil; n = n.NextSibling() {
		heading, is := n.(*ast.Heading)
		if !is {
			return room + linesKept*lineHeight
		}
		size := headingSize(heading)
		s.f.SetFont(family, "B", size)
		lines := len(s.f.SplitText(s.words(heading), width-left-right))
		room += size/4 + float64(lines)*size*headingLine + belowHeading
	}
	return room
}

// indented sets what an element holds further in.
func (s *sheet) indented(by float64, n ast.Node) {
	left, _, _, _ := s.f.GetMargins()
	s.f.SetLeftMargin(left + by)
	if s.f.GetX() < left+by {
		s.f.SetX(left + by)
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		s.block(c)
	}
	s.f.SetLeftMargin(left)
	s.f.SetX(left)
}

// inline sets the words of a block, each in its style.
func (s *sheet) inline(n ast.Node, style string) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch e := c.(type) {
		case *ast.Text:
			s.f.SetFont(family, style, textSize)
			s.f.Write(lineHeight, s.textOf(e))
		case *ast.Emphasis:
			more := "I"
			if e.Level > 1 {
				more = "B"
			}
			if strings.Contains(style, more) {
				more = ""
			}
			if both := style + more; both == "IB" || both == "BI" {
				s.inline(e, "BI")
			} else {
				s.inline(e, both)
			}
		case *ast.AutoLink:
			s.f.SetFont(family, style, textSize)
			s.f.Write(lineHeight, set(string(e.Label(s.source))))
		default: // a link is its words
			s.inline(c, style)
		}
	}
}

// words are those of a block, without their styles.
func (s *sheet) words(n ast.Node) string {
	var b strings.Builder
	// The function never fails.
	_ = ast.Walk(n, func(c ast.Node, entering bool) (ast.WalkStatus, error) {
		if t, ok := c.(*ast.Text); ok && entering {
			b.WriteString(s.textOf(t))
		}
		return ast.WalkContinue, nil
	})
	return b.String()
}

func (s *sheet) textOf(t *ast.Text) string {
	raw := t.Segment.Value(s.source)
	words := string(util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(raw))))
	switch {
	case t.HardLineBreak():
		words += "\n"
	case t.SoftLineBreak():
		words += " "
	}
	return set(words)
}

// set spells what the letters of the sheet do not have: double accidentals.
var set = strings.NewReplacer("𝄪", "×", "𝄫", "♭♭").Replace
