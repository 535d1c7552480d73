package page

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
)

// Effect is what another policy would do to the repertoire.
type Effect struct {
	Pieces, Touched, Failed, Notes, Changes int
	Kinds, Keys, ByPiece                    []Count // most first
	Passages                                []PassageEffect
}

// Count is how many changes there are of something; Of is the notes of a piece.
type Count struct {
	Name  string
	Count int
	Of    int
}

// PassageEffect is a passage that changes; Hand is R or L.
type PassageEffect struct {
	Piece, Hand, From, To string // measures as printed
	Count                 int
	Keys                  []string
}

// PolicyEffect writes the page of what another policy would do to the repertoire: totals, then by key, piece and
// passage, most affected first.
func PolicyEffect(e *Effect, collection, policy string) ([]byte, error) {
	intro := fmt.Sprintf(
		"Under %s, %d changes in %d of %d pieces (%d notes).", policy, e.Changes, e.Touched, e.Pieces, e.Notes,
	)
	if e.Failed > 0 {
		intro += fmt.Sprintf(" %d pieces could not be worked out.", e.Failed)
	}
	l := list{
		File: "", Title: "Effect of a policy change", Collection: collection, Intro: intro, None: "Nothing changes.",
	}
	of := func(title, head string, counts []Count) {
		t := table{Title: title, Heads: []string{"Changes", "Notes"}, First: head}
		for _, c := range counts {
			notes := ""
			if c.Of > 0 {
				notes = fmt.Sprint(c.Of)
			}
			t.Rows = append(t.Rows, listRow{Piece: c.Name, Cells: []string{fmt.Sprint(c.Count), notes}})
		}
		l.Tables = append(l.Tables, t)
	}
	of("By key", "Key", e.Keys)
	of("By piece", "Piece", e.ByPiece)
	of("By kind", "Kind", e.Kinds)
	t := table{
		Title: "Passages, most affected first", First: "Piece", Places: true,
		Heads: []string{"Hand", "Changes", "Caused by"},
	}
	for _, p := range e.Passages {
		place := "m. " + p.From
		if p.To != p.From {
			place = "mm. " + p.From + "–" + p.To
		}
		hand := score.Right
		if p.Hand == "L" {
			hand = score.Left
		}
		t.Rows = append(t.Rows, listRow{
			Piece: p.Piece, Place: place,
			Cells: []string{hand.Words(), fmt.Sprint(p.Count), strings.Join(p.Keys, "; ")},
		})
	}
	l.Tables = append(l.Tables, t)
	out, err := render("list.html", l)
	if err != nil {
		return nil, fmt.Errorf("writing the page of a policy's effect: %w", err)
	}
	return out, nil
}
