package page

import (
	"context"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/reports/engrave"
)

// Effect is what another policy would do to the repertoire.
type Effect struct {
	Pieces, Touched, Failed, Notes, Changes int
	Printed                                 string  // how many digits are in print before and after
	Kinds, Keys, ByPiece                    []Count // most first
	Passages                                []PassageEffect
	Come, GoneFindings                      []FindingEffect // findings that would come up, and that would be gone
	Notation                                string          // why nothing is drawn, "" where it is

	glyphs engrave.Glyphs
	drawn  bool
}

// Count is how many changes there are of something; Of is the notes of a piece.
type Count struct {
	Name  string
	Count int
	Of    int
}

// FindingEffect is a finding of a piece: severity, rule, place and what is found.
type FindingEffect struct{ Piece, Says string }

// PassageEffect is a passage that changes; Hand is R or L.
type PassageEffect struct {
	Piece, Hand, From, To string // measures as printed
	Count                 int
	Keys                  []string

	pictures [2]string // as it prints now and as it would, "" where they are not drawn
	alike    []string  // changes of notes that print alike on both sides
}

// NoteEffect is a note that changes: its number in the score, and the change in words.
type NoteEffect struct {
	N    int
	Says string
}

// Draw draws passage k as it prints in two runs, now and under the other policy; notes are those that change. Those whose
// signs are the same in both are named below the pictures: a frame on both sides would show nothing.
func (e *Effect) Draw(
	ctx context.Context, worker *engrave.Worker, k int, runs [2]*pipeline.PieceRun, notes []NoteEffect, first, last int,
) error {
	var sheets [2]*engrave.Sheet
	for side, w := range runs {
		var err error
		if sheets[side], err = editionSheet(w, w.EditionData); err != nil {
			e.Notation = fmt.Sprintf("%s could not be drawn: %v", e.Passages[k].Piece, err)
			return nil
		}
	}
	e.Passages[k].alike = frame(sheets, notes)
	if len(e.Passages[k].alike) == len(notes) {
		return nil
	}
	for side, sheet := range sheets {
		picture, err := worker.Excerpt(ctx, sheet, first, min(last, sheet.Measures-1), engrave.ExcerptOptions{
			Title: [2]string{"as it prints now", "as it would print"}[side], Width: systemWidth, Glyphs: &e.glyphs,
		})
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			e.Notation = fmt.Sprintf("A passage of %s could not be drawn: %v", e.Passages[k].Piece, err)
			return nil
		}
		e.Passages[k].pictures[side], e.drawn = picture.SVG, true
	}
	return nil
}

// frame frames the digits that differ in two sheets, and rings the notes that have one in the other sheet alone. It gives
// the changes of notes whose signs are the same in both.
func frame(sheets [2]*engrave.Sheet, notes []NoteEffect) (alike []string) {
	same := map[int]bool{}
	for _, change := range notes {
		n := change.N
		if n < 0 || n >= min(len(sheets[0].Notes), len(sheets[1].Notes)) {
			continue
		}
		if _, seen := same[n]; !seen {
			same[n] = slices.Equal(sheets[0].Notes[n].Digits, sheets[1].Notes[n].Digits)
		}
		if same[n] {
			alike = append(alike, change.Says)
		}
	}
	for n, equal := range same {
		if equal {
			continue
		}
		for _, sheet := range sheets {
			if len(sheet.Notes[n].Digits) == 0 {
				sheet.Notes[n].Ring = "bare" // a digit that stands on one side only
			}
			for i := range sheet.Notes[n].Digits {
				sheet.Notes[n].Digits[i].Boxed, sheet.Notes[n].Digits[i].Class = true, "altered"
			}
		}
	}
	return alike
}

// mostAlike is how many changes that print alike are named below a picture.
const mostAlike = 6

// printsAlike says which changes of a passage no picture shows, "" where there are none.
func (p *PassageEffect) printsAlike() string {
	if len(p.alike) == 0 {
		return ""
	}
	said := p.alike[:min(len(p.alike), mostAlike)]
	if more := len(p.alike) - len(said); more > 0 {
		said = append(slices.Clone(said), fmt.Sprintf("and %d more", more))
	}
	return "In the fingering alone, the digits in print stay: " + strings.Join(said, "; ") + "."
}

// sideBySide is a passage before and after, as a page shows it.
type sideBySide struct {
	Title         string
	Before, After template.HTML
	Alike         string // changes that no picture shows
}

// mostSums is how many rows a table of sums has before the pictures.
const mostSums = 20

// PolicyEffect writes the page of what another policy would do to the repertoire: totals, then by key, piece and
// passage, most affected first.
func PolicyEffect(e *Effect, collection, policy string) ([]byte, error) {
	intro := fmt.Sprintf(
		"Under %s: %d changes in %d of %d pieces (%d notes).", policy, e.Changes, e.Touched, e.Pieces, e.Notes,
	)
	if e.Printed != "" {
		intro += " " + e.Printed
	}
	if e.Failed > 0 {
		intro += fmt.Sprintf(" %s could not be worked out.", wording.Count(e.Failed, "piece"))
	}
	l := list{
		File: "", Title: "Effect of a policy change", Collection: collection, Intro: intro, None: "Nothing changes.",
	}
	l.Notation = e.Notation
	for i := range e.Passages {
		p := &e.Passages[i]
		if (p.pictures[0] == "" || p.pictures[1] == "") && len(p.alike) == 0 {
			continue
		}
		l.Pictures = append(l.Pictures, sideBySide{
			Title: fmt.Sprintf("%s, %s, %s: %s (%s)", p.Piece, p.place(), p.handWords(),
				wording.Count(p.Count, "change"), strings.Join(p.Keys, "; ")),
			Before: template.HTML(p.pictures[0]), After: template.HTML(p.pictures[1]), //nolint:gosec // of reports/engrave
			Alike: p.printsAlike(),
		})
	}
	if e.drawn {
		l.Glyphs = template.HTML(e.glyphs.SVG()) //nolint:gosec // outlines written by reports/engrave
	}
	of := func(title, head string, counts []Count) {
		t := table{Title: title, Heads: []string{"Changes"}, First: head}
		for _, c := range counts {
			row := listRow{Piece: c.Name, Cells: []string{fmt.Sprint(c.Count)}}
			if c.Of > 0 {
				t.Heads, row.Cells = []string{"Changes", "of notes"}, append(row.Cells, fmt.Sprint(c.Of))
			}
			t.Rows = append(t.Rows, row)
		}
		if len(t.Rows) > mostSums {
			l.Tables = append(l.Tables, t) // too long to stand before the pictures
			return
		}
		l.Sums = append(l.Sums, t)
	}
	of("By key", "Key", e.Keys)
	of("By kind", "Kind", e.Kinds)
	of("By piece", "Piece", e.ByPiece)
	t := table{
		Title: "Passages, most affected first", First: "Piece", Places: true,
		Heads: []string{"Hand", "Changes", "Caused by"},
	}
	for _, p := range e.Passages {
		t.Rows = append(t.Rows, listRow{
			Piece: p.Piece, Place: p.place(),
			Cells: []string{p.handWords(), fmt.Sprint(p.Count), strings.Join(p.Keys, "; ")},
		})
	}
	l.Tables = append(l.Tables, t)
	for _, f := range []struct {
		title string
		of    []FindingEffect
	}{{"Findings that come up", e.Come}, {"Findings that are gone", e.GoneFindings}} {
		t := table{Title: f.title, First: "Piece", Heads: []string{"Finding"}}
		for _, one := range f.of {
			t.Rows = append(t.Rows, listRow{Piece: one.Piece, Cells: []string{one.Says}})
		}
		if len(t.Rows) > 0 {
			l.Tables = append(l.Tables, t)
		}
	}
	out, err := render("list.html", l)
	if err != nil {
		return nil, fmt.Errorf("writing the page of a policy's effect: %w", err)
	}
	return out, nil
}

func (p *PassageEffect) place() string {
	if p.To != p.From {
		return "mm. " + p.From + "–" + p.To
	}
	return "m. " + p.From
}

func (p *PassageEffect) handWords() string {
	if p.Hand == "L" {
		return score.Left.Words()
	}
	return score.Right.Words()
}
