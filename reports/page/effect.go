package page

import (
	"context"
	"fmt"
	"html/template"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/reports/engrave"
)

// Effect is what another policy would do to the repertoire.
type Effect struct {
	Pieces, Touched, Failed, Notes, Changes int
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
}

// Draw draws passage k as it prints in two runs, now and under the other policy; notes are those that change.
func (e *Effect) Draw(
	ctx context.Context, worker *engrave.Worker, k int, runs [2]*pipeline.PieceRun, notes []int, first, last int,
) error {
	for side, w := range runs {
		sheet, err := editionSheet(w)
		if err != nil {
			e.Notation = fmt.Sprintf("%s could not be drawn: %v", e.Passages[k].Piece, err)
			return nil
		}
		for _, n := range notes {
			if n < 0 || n >= len(sheet.Notes) {
				continue
			}
			if len(sheet.Notes[n].Digits) == 0 {
				sheet.Notes[n].Ring = "bare" // a digit that stands on one side only
			}
			for i := range sheet.Notes[n].Digits {
				sheet.Notes[n].Digits[i].Boxed, sheet.Notes[n].Digits[i].Class = true, "altered"
			}
		}
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

// sideBySide is a passage before and after, as a page shows it.
type sideBySide struct {
	Title         string
	Before, After template.HTML
}

// mostSums is how many rows a table of sums has before the pictures.
const mostSums = 20

// PolicyEffect writes the page of what another policy would do to the repertoire: totals, then by key, piece and
// passage, most affected first.
func PolicyEffect(e *Effect, collection, policy string) ([]byte, error) {
	intro := fmt.Sprintf(
		"Under %s: %d changes in %d of %d pieces (%d notes).", policy, e.Changes, e.Touched, e.Pieces, e.Notes,
	)
	if e.Failed > 0 {
		intro += fmt.Sprintf(" %s could not be worked out.", wording.Count(e.Failed, "piece"))
	}
	l := list{
		File: "", Title: "Effect of a policy change", Collection: collection, Intro: intro, None: "Nothing changes.",
	}
	l.Notation = e.Notation
	for i := range e.Passages {
		p := &e.Passages[i]
		if p.pictures[0] == "" || p.pictures[1] == "" {
			continue
		}
		l.Pictures = append(l.Pictures, sideBySide{
			Title: fmt.Sprintf("%s, %s, %s: %s (%s)", p.Piece, p.place(), p.handWords(),
				wording.Count(p.Count, "change"), strings.Join(p.Keys, "; ")),
			Before: template.HTML(p.pictures[0]), After: template.HTML(p.pictures[1]), //nolint:gosec // of reports/engrave
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
