// Package diffpage draws differences as one HTML page that opens anywhere: no
// outside address, everything inlined.
package diffpage

import (
	_ "embed" // the page's template and look
	"html/template"
	"io"
	"strconv"

	"fingerproof/pipeline/4_services/compare"
)

//go:embed diff.html
var page string

//go:embed diff.css
var look string

//go:embed diff.js
var script string

var drawing = template.Must(template.New("diff").Parse(page))

type view struct {
	Old, New string
	Look     template.CSS
	Script   template.JS
	Pieces   []pieceView
	Same     []string // pieces without differences
	Total    int
}

type pieceView struct {
	ID, Anchor, Title, Problem string
	Classes                    []classView
	Count                      int
	Covered                    string
}

type classView struct {
	Class   compare.Class
	Changes []changeView
}

type changeView struct {
	Anchor, Place, Kind, Old, New string
}

// Write draws a diff. Pieces keep their order, those without differences are
// only named; changes stand by class, fingering first, in the order of the music.
func Write(out io.Writer, d *compare.Diff) error {
	v := view{Old: d.Old, New: d.New, Look: template.CSS(look), Script: template.JS(script)}
	for i := range d.Pieces {
		p := &d.Pieces[i]
		if p.Problem == "" && len(p.Changes) == 0 {
			v.Same = append(v.Same, p.ID)
			continue
		}
		v.Pieces = append(v.Pieces, draw(p, i))
		v.Total += len(p.Changes)
	}
	return drawing.Execute(out, v)
}

func draw(p *compare.Piece, number int) pieceView {
	v := pieceView{
		ID: p.ID, Anchor: "piece-" + strconv.Itoa(number+1), Title: p.OldTitle, Problem: p.Problem,
		Count: len(p.Changes),
	}
	if p.Notes > 0 {
		v.Covered = percent(p.Covered)
	}
	for _, class := range compare.Classes() {
		c := classView{Class: class}
		for k := range p.Changes {
			ch := &p.Changes[k]
			if ch.Kind.Class() != class {
				continue
			}
			place := ""
			if at := ch.At(); at != nil {
				place = at.Words(true)
			}
			c.Changes = append(c.Changes, changeView{
				v.Anchor + "-" + strconv.Itoa(k+1), place, ch.Kind.Words(), ch.Old, ch.New,
			})
		}
		if len(c.Changes) > 0 {
			v.Classes = append(v.Classes, c)
		}
	}
	return v
}

// percent writes hundred-thousandths as a percentage, cut and not rounded: 100 %
// means all.
func percent(covered int) string {
	whole, rest := covered/1000, covered%1000/100
	if rest == 0 {
		return strconv.Itoa(whole) + " %"
	}
	return strconv.Itoa(whole) + "." + strconv.Itoa(rest) + " %"
}
