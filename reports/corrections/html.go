package corrections

import (
	_ "embed" // the sheet's template
	"html/template"
	"io"
)

//go:embed sheet.html
var sheetTemplate string

var drawing = template.Must(template.New("sheet").Parse(sheetTemplate))

type htmlLine struct {
	line
	Link string
}

type htmlPiece struct {
	ID    string
	Lines []htmlLine
}

type htmlSection struct {
	section
	Drawn []htmlPiece
}

func writeHTML(out io.Writer, s *Sheet) error {
	v := struct {
		*Sheet
		Remarks  []string
		Sections []htmlSection
		Nothing  string
	}{Sheet: s, Remarks: s.remarks(), Nothing: s.nothing()}
	for _, part := range s.sections() {
		h := htmlSection{section: part}
		for _, p := range part.Pieces {
			drawn := htmlPiece{ID: p.ID}
			for i := range p.Lines {
				drawn.Lines = append(drawn.Lines, htmlLine{p.Lines[i], s.link(&p.Lines[i])})
			}
			h.Drawn = append(h.Drawn, drawn)
		}
		v.Sections = append(v.Sections, h)
	}
	return drawing.Execute(out, v)
}
