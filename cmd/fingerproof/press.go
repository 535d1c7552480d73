package main

import (
	"fmt"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
)

// press lists what keeps a piece from press: digits that are open and
// redistributions that wait for a word, by passage with the numbers of the
// piece's page; queries, decisions that contradict each other or have lost
// their note.
func (t *tally) press(w *pipeline.PieceRun) {
	r := w.Result
	open := 0
	say := func(format string, args ...any) {
		fmt.Fprintf(t.env.Stdout, "%s: %s\n", w.Piece.ID, fmt.Sprintf(format, args...))
	}
	measureOf := func(note int) string { return w.Score.Measures[w.Score.Notes[note].Measure].Number }
	open += openPassages(w, say)
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
	if open > 0 {
		t.status = exitFindings
	}
}

// openPassages lists the passages of a piece in which something is open, and
// gives how many things are. What is decided together with a passage, since it
// brings it back, is counted behind them.
func openPassages(w *pipeline.PieceRun, say func(format string, args ...any)) int {
	open, named := 0, 0
	for _, p := range review.All(w.ReviewInput()) { // numbered as on the page
		place := "m. " + w.Score.Measures[p.First].Number
		if p.Last > p.First {
			place = "mm. " + w.Score.Measures[p.First].Number + "–" + w.Score.Measures[p.Last].Number
		}
		switch {
		case p.Redistribution >= 0 && !w.Result.Redistributions[p.Redistribution].Decided:
			open++
			say("passage %d, %s: %s for the %s, not decided", p.Number, place,
				wording.Count(len(w.Result.Redistributions[p.Redistribution].Notes), "note"), p.Hand.Other().Words())
		case len(p.Open) > 0 && p.ReturnOf == 0:
			named += len(p.Open)
			firm := ""
			if p.Firm {
				firm = ", firm"
			}
			say("passage %d, %s, %s: %s open%s", p.Number, place, p.Hand.Words(),
				wording.Count(len(p.Open), "digit"), firm)
		}
	}
	if rest := len(w.Open) - named; rest > 0 {
		say("%s open where these passages come again: decided with them", wording.Count(rest, "digit"))
	}
	return open + len(w.Open)
}

// contradictions names decisions of which what one says was left open by another, or by another editor: an editor has
// to say it anew.
func (t *tally) contradictions(w *pipeline.PieceRun) {
	for i := range w.Result.Contradictions {
		if c := &w.Result.Contradictions[i]; c.Open || c.Cause == state.CauseEditors {
			t.env.complain("%s: m. %s, %s: %s", w.Piece.ID, c.Measure, c.Hand.Words(), c.Words())
		}
	}
}
