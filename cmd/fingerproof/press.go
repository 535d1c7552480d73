package main

import (
	"fmt"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
)

// press lists what keeps a piece from press: digits that are open,
// queries, decisions that contradict each other or have lost their note,
// redistributions that wait for a word.
func (t *tally) press(w *pipeline.PieceRun) {
	r, id := w.Result, w.Piece.ID
	open := 0
	for _, o := range r.Open {
		open += len(o.Notes)
		fmt.Fprintf(t.env.Stdout, "%s: m. %s, %s: %s open\n", id, o.Measure, o.Hand.Words(), wording.Count(len(o.Notes), "digit"))
	}
	for _, q := range w.Decided.Queries {
		open++
		fmt.Fprintf(t.env.Stdout, "%s: m. %s: %s asks: %s\n", id, w.Score.Measures[w.Score.Notes[q.Notes[0]].Measure].Number, q.Decision.By, q.Decision.Why)
	}
	for _, c := range w.Decided.Contradictions {
		open++
		fmt.Fprintf(t.env.Stdout, "%s: m. %s: %s and %s differ on %s\n", id, w.Score.Measures[w.Score.Notes[c.Note].Measure].Number, c.First.By, c.Second.By, w.Score.Notes[c.Note].Pitch)
	}
	for _, u := range r.Unplaced {
		open++
		fmt.Fprintf(t.env.Stdout, "%s: a decision of %s for what was m. %s is unplaced (%s)\n", id, u.By, u.Measure, u.Entry)
	}
	for _, d := range r.Redistributions {
		if !d.Decided {
			open++
			fmt.Fprintf(t.env.Stdout, "%s: redistribution %s waits for a decision\n", id, d.ID)
		}
	}
	if open > 0 {
		t.status = exitFindings
	}
}
