// Package diffpage draws differences as one HTML page that opens anywhere: no
// outside address, everything inlined. Both readings of the measures that
// differ stand one below the other, and a proof reader marks each difference
// there and saves the marks as a correction sheet.
package diffpage

import (
	_ "embed" // the page's template, look and script
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strconv"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline/4_services/compare"
	"fingerproof/reports/engrave"
)

//go:embed diff.html
var page string

//go:embed diff.css
var look string

//go:embed diff.js
var script string

var drawing = template.Must(template.New("diff").Parse(page))

// Page is a page in the making.
type Page struct {
	Diff *compare.Diff
	// Corrections are those of the sheet, by which each difference is known from proof to proof.
	Corrections []compare.Correction
	NotCompared []string // what the comparison did not look at
	Notation    string   // why there is no notation, where there is none

	pictures map[string][]pictures // by piece, one for each of its groups
	glyphs   engrave.Glyphs
}

// pictures are both readings of a group.
type pictures struct{ old, new, problem string }

type view struct {
	Old, New, Sum string
	Look          template.CSS
	Script        template.JS
	Glyphs        template.HTML
	Notation      string
	NotCompared   []string
	Classes       []compare.Class
	Pieces        []pieceView
	Same          []string // pieces without differences
	Total         string
	InPieces      string
}

type pieceView struct {
	ID, Anchor, Title, Problem string
	Count                      string
	Covered                    string
	Groups                     []groupView
	Unseen, Done               []lineView
}

type groupView struct {
	Anchor, Title      string
	Old, New           template.HTML
	NoOld, NoNew, Note string
	Lines              []lineView
}

type lineView struct {
	ID, Place, What, Old, New, Ask, Comment, By string
	Number                                      int
	Class                                       compare.Class
	State                                       compare.State
	Kind                                        compare.Kind
	Reads, Should                               string
	Also                                        string // the other places of its cause, as JSON
	Anchors                                     []string
}

// place is one of the further places of a cause, as the marks of a reader name it.
type place struct {
	ID     string `json:"id"`
	At     string `json:"at"`
	Reads  string `json:"reads"`
	Should string `json:"should"`
}

// also lists the places of a cause but for the first, as JSON and by their names.
func also(piece *compare.Piece, cause *compare.Cause, known []*compare.Correction) (list string, ids []string) {
	var out []place
	for _, k := range cause.Changes[1:] {
		v := line(&piece.Changes[k], known[k], k+1)
		out, ids = append(out, place{v.ID, v.Place, v.Reads, v.Should}), append(ids, v.ID)
	}
	text, err := json.Marshal(out)
	if err != nil {
		panic(err) // strings are always written
	}
	return string(text), ids
}

// Write writes the page. Pieces keep their order, those without differences
// are only named; within a piece differences stand in the order of the music.
func (p *Page) Write(out io.Writer) error {
	d := p.Diff
	v := view{
		Old: d.Old, New: d.New, Look: template.CSS(engrave.CSS + look), Script: template.JS(script),
		Classes:  compare.Classes(),
		Notation: p.Notation, NotCompared: p.NotCompared,
	}
	if len(d.Compared) > 0 {
		v.Classes = d.Compared
	}
	total := 0
	for i := range d.Pieces {
		piece := &d.Pieces[i]
		for k := range piece.Changes { // that a piece is missing is seen whatever is compared
			if class := piece.Changes[k].Kind.Class(); !slices.Contains(v.Classes, class) {
				v.Classes = append(slices.Clone(v.Classes), class)
			}
		}
		if piece.Problem == "" && len(piece.Changes) == 0 && !p.anyListed(piece.ID) {
			v.Same = append(v.Same, piece.ID)
			continue
		}
		v.Pieces = append(v.Pieces, p.view(piece, i))
		total += len(piece.Lines())
	}
	v.Total, v.InPieces = wording.Count(total, "difference"), wording.Count(len(v.Pieces), "piece")
	if p.pictures != nil {
		v.Glyphs = template.HTML(p.glyphs.SVG())
	}
	return drawing.Execute(out, v)
}

func (p *Page) view(piece *compare.Piece, number int) pieceView {
	v := pieceView{
		ID: piece.ID, Anchor: "piece-" + strconv.Itoa(number+1), Title: piece.OldTitle, Problem: piece.Problem,
		Count: wording.Count(len(piece.Lines()), "difference"),
	}
	if piece.Notes > 0 {
		v.Covered = percent(piece.Covered)
	}
	known, causes := p.known(piece), piece.CauseOf()
	for g, group := range groupsOf(piece) {
		view := groupView{Anchor: v.Anchor + "-" + strconv.Itoa(g+1), Title: group.title}
		for _, k := range group.changes {
			one := line(&piece.Changes[k], known[k], k+1)
			if cause := causes[k]; cause != nil {
				one.Place, one.What, one.Old, one.New = cause.Extent+", the first at "+one.Place, cause.What(), cause.Old, cause.New
				if one.Ask != "" {
					one.Ask = cause.Ask()
				}
				one.Also, one.Anchors = also(piece, cause, known)
			}
			view.Lines = append(view.Lines, one)
		}
		if drawn := p.pictures[piece.ID]; g < len(drawn) {
			view.Old, view.New, view.Note = template.HTML(drawn[g].old), template.HTML(drawn[g].new), drawn[g].problem
			if drawn[g].problem == "" && group.drawable() {
				if drawn[g].old == "" {
					view.NoOld = "there is no such measure"
				}
				if drawn[g].new == "" {
					view.NoNew = "there is no such measure"
				}
			}
		}
		v.Groups = append(v.Groups, view)
	}
	for i := range p.Corrections {
		c := &p.Corrections[i]
		if c.Piece == piece.ID && c.State == compare.Unseen {
			v.Unseen = append(v.Unseen, lineView{
				ID: c.ID, Place: c.Place(), What: c.Kind.Words(), Ask: c.Ask, State: c.State, Comment: c.Comment,
				By: c.By,
			})
		}
		if c.Piece == piece.ID && c.State == compare.Done {
			v.Done = append(v.Done, lineView{
				ID: c.ID, Place: c.Place(), What: c.Kind.Words(), Ask: c.Ask, State: c.State, Comment: c.Comment,
				By: c.By,
			})
		}
	}
	return v
}

// known gives the corrections of a piece's changes, in their order.
func (p *Page) known(piece *compare.Piece) []*compare.Correction {
	out := make([]*compare.Correction, len(piece.Changes))
	k := 0
	for i := range p.Corrections {
		c := &p.Corrections[i]
		if c.Piece == piece.ID && !listed(c) && c.State != compare.Unread && k < len(out) {
			out[k] = c
			k++
		}
	}
	return out
}

// listed reports that a correction stands in a list of its own: what is done, and what was not looked at.
func listed(c *compare.Correction) bool { return c.State == compare.Done || c.State == compare.Unseen }

func (p *Page) anyListed(piece string) bool {
	for i := range p.Corrections {
		if p.Corrections[i].Piece == piece && listed(&p.Corrections[i]) {
			return true
		}
	}
	return false
}

func line(c *compare.Change, known *compare.Correction, number int) lineView {
	v := lineView{
		Number: number, Place: "whole piece", What: c.Kind.Words(), Old: c.Old, New: c.New, Class: c.Kind.Class(),
		Kind:  c.Kind,
		Reads: c.New, Should: c.Old, ID: fmt.Sprint("n", number),
	}
	if at := c.At(); at != nil {
		v.Place = at.Short(false)
	}
	if known != nil {
		v.ID, v.Ask, v.State, v.Comment, v.By = known.ID, known.Ask, known.State, known.Comment, known.By
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
