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
	r := w.Result
	open := 0
	say := func(format string, args ...any) {
		fmt.Fprintf(t.env.Stdout, "%s: %s\n", w.Piece.ID, fmt.Sprintf(format, args...))
	}
	measureOf := func(note int) string { return w.Score.Measures[w.Score.Notes[note].Measure].Number }
	for _, o := range r.Open {
		open += len(o.Notes)
		say("m. %s, %s: %s open", o.Measure, o.Hand.Words(), wording.Count(len(o.Notes), "digit"))
	}
	for _, q := range w.Decided.Queries {
		open++
		say("m. %s: %s asks: %s", measureOf(q.Notes[0]), q.Decision.By, q.Decision.Why)
	}
	for _, c := range w.Decided.Contradictions {
		open++
		say("m. %s: %s and %s differ on %s", measureOf(c.Note), c.First.By, c.Second.By, w.Score.Notes[c.Note].Pitch)
	}
	for _, u := range r.Unplaced {
		open++
		say("a decision of %s for what was m. %s is unplaced (%s)", u.By, u.Measure, u.Entry)
	}
	for _, d := range r.Redistributions {
		if !d.Decided {
			open++
			say("redistribution %s waits for a decision", d.ID)
		}
	}
	if open > 0 {
		t.status = exitFindings
	}
}
