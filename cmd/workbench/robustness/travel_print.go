package robustness

import (
	"fmt"
	"io"
	"strings"

	"fingerproof/cmd/workbench/figures"
)

// reaches are the columns of the tables: changes no farther than so many measures.
var reaches = []int{0, 1, 2, 4, 8, 16}

// print prints what the trips come to.
func (m *travelling) print(out io.Writer, trips []trip) {
	pieces := map[string]bool{}
	for i := range trips {
		pieces[trips[i].piece] = true
	}
	fmt.Fprintf(out, "%d edits of one measure each, in %d scores\n", len(trips), len(pieces))
	fmt.Fprintln(out, "share of edits that move nothing farther than so many measures from edit, returns and figures:")
	titles := []string{"", "edits", "still"}
	for _, r := range reaches {
		titles = append(titles, fmt.Sprintf("≤%d", r))
	}
	table := figures.NewTable(append(titles, "farthest", "notes", "return", "figure")...)
	for _, what := range movedThings {
		table.Row(what)
		for _, kind := range smallEdits {
			travelRow(table, "  "+kind.name, what, keep(trips, func(t *trip) bool { return t.kind == kind.name }))
		}
		travelRow(table, "  all", what, trips)
	}
	table.Print(out)
	far, score := 0, 0
	for i := range trips {
		t := &trips[i]
		if reach := t.reach(movedFinger); reach > m.near {
			far++
			if m.list {
				fmt.Fprintf(out, "%s: %s at %s moves fingers up to %d measures away: %s (fingers moved in m. %s)\n",
					t.piece, t.kind, t.where, reach, t.farthest, strings.Join(t.measures, ", "))
			}
		}
		score += t.notes
	}
	fmt.Fprintf(out, "%d of %d edits (%.2f %%) move a finger more than %d measures away from all three; "+
		"a score of these has %d notes on average\n",
		far, len(trips), 100*figures.Quotient(far, len(trips)), m.near, score/max(len(trips), 1))
}

func keep(trips []trip, wanted func(*trip) bool) (out []trip) {
	for i := range trips {
		if wanted(&trips[i]) {
			out = append(out, trips[i])
		}
	}
	return out
}

// travelRow counts how far things of one sort move.
func travelRow(table *figures.Table, name, what string, trips []trip) {
	if len(trips) == 0 {
		return
	}
	still, farthest, notes := 0, 0, [3]int{}
	within := make([]int, len(reaches))
	for i := range trips {
		reach := trips[i].reach(what)
		if reach < 0 {
			still++
		}
		farthest = max(farthest, reach)
		for k, r := range reaches {
			if reach <= r {
				within[k]++
			}
		}
		for _, m := range trips[i].moves {
			if m.what == what {
				notes[m.by]++
			}
		}
	}
	cells := []any{name, len(trips), figures.Quotient(still, len(trips))}
	for _, n := range within {
		cells = append(cells, figures.Quotient(n, len(trips)))
	}
	table.Row(append(cells, farthest, notes[0]+notes[1]+notes[2], notes[byReturn], notes[byFigure])...)
}
