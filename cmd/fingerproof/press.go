package main

import (
	"cmp"
	"fmt"
	"strings"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/review"
)

// leftOpen is what keeps a piece from press.
type leftOpen struct {
	digits, redistributions, rolls, queries, contradictions, unplaced int

	places   []string // of the digits that are open, the first few
	passages []string // in which digits are open, by passage with the numbers of the piece's page
	others   []string // the rest, each with its place
}

// total counts all of it.
func (l *leftOpen) total() int {
	return l.digits + l.redistributions + l.rolls + l.queries + l.contradictions + l.unplaced
}

// words counts it by kind, "" where there is nothing.
func (l *leftOpen) words() string {
	var out []string
	for _, k := range []struct {
		n         int
		one, many string
	}{
		{l.digits, "note with an open digit in print", "notes with an open digit in print"},
		{l.redistributions, "redistribution not decided", "redistributions not decided"},
		{l.rolls, "chord offered to be rolled, not decided", "chords offered to be rolled, not decided"},
		{l.queries, "query not answered", "queries not answered"},
		{l.contradictions, "note on which decisions differ", "notes on which decisions differ"},
		{l.unplaced, "decision unplaced", "decisions unplaced"},
	} {
		switch {
		case k.n == 1:
			out = append(out, "1 "+k.one)
		case k.n > 1:
			out = append(out, fmt.Sprintf("%d %s", k.n, k.many))
		}
	}
	return strings.Join(out, ", ")
}

// stillOpen finds what keeps a piece from press: digits that are open and redistributions that wait for a word;
// queries, decisions that contradict each other or have lost their note. run --press and pass both ask here.
func stillOpen(w *pipeline.PieceRun) *leftOpen {
	l := &leftOpen{}
	l.openPassages(w)
	add := func(count *int, format string, args ...any) {
		*count++
		l.others = append(l.others, fmt.Sprintf(format, args...))
	}
	measureOf := func(note int) string { return w.Score.Measures[w.Score.Notes[note].Measure].Number }
	for _, q := range w.Decided.Queries {
		add(&l.queries, "m. %s: %s asks: %s", measureOf(q.Notes[0]), q.Decision.By, q.Decision.Why)
	}
	for _, c := range w.Decided.Contradictions {
		add(&l.contradictions, "m. %s: %s and %s differ on %s", measureOf(c.Note), c.First.By, c.Second.By,
			w.Score.Notes[c.Note].Pitch)
	}
	for _, u := range w.Result.Unplaced {
		add(&l.unplaced, "a decision of %s for what was m. %s is unplaced: %s (%s)", u.By, u.Measure, cmp.Or(u.Note(), "its note"), u.Entry)
	}
	return l
}

// openPassages finds the passages of a piece in which something is open. What is decided together with a passage,
// since it brings it back, is counted behind them.
func (l *leftOpen) openPassages(w *pipeline.PieceRun) {
	named := 0
	for _, p := range review.All(w.ReviewInput()) { // numbered as on the page
		place := w.Score.MeasureRange(p.First, p.Last)
		l.openRolls(w, &p, place)
		switch {
		case p.Redistribution >= 0 && !w.Result.Redistributions[p.Redistribution].Decided:
			l.redistributions++
			l.others = append(l.others, fmt.Sprintf("passage %d, %s: %s for the %s, not decided", p.Number, place,
				wording.Count(len(w.Result.Redistributions[p.Redistribution].Notes), "note"), p.Hand.Other().Words()))
		case len(p.Open) > 0 && p.ReturnOf == 0:
			named += len(p.Open)
			firm := ""
			if p.Firm {
				firm = ", without doubt"
			}
			l.passages = append(l.passages, fmt.Sprintf("passage %d, %s, %s: %s open%s", p.Number, place, p.Hand.Words(),
				wording.Count(len(p.Open), "note"), firm))
		}
	}
	if rest := len(w.Open) - named; rest > 0 {
		l.passages = append(l.passages,
			wording.Count(rest, "note")+" open where these passages come again: decided with them")
	}
	l.digits = len(w.Open)
	for i, n := range w.Open {
		if i == mostFindings && len(w.Open) > mostFindings+1 {
			l.places = append(l.places, fmt.Sprintf("and %d more", len(w.Open)-i))
			break
		}
		note := &w.Score.Notes[n]
		l.places = append(l.places, fmt.Sprintf("open: m. %s, %s, beat %s, %s: %d", w.Score.Measures[note.Measure].Number,
			w.Playing.Hand(n).Words(), w.Score.Beat(note.Measure, note.Onset), note.Pitch, w.Suggestion.Notes[n].Finger))
	}
}

// openRolls counts the chords of a passage that are offered to be rolled, where the offer prints: nobody has said whether they are.
func (l *leftOpen) openRolls(w *pipeline.PieceRun, p *review.Passage, place string) {
	if w.Policy.RollMarks() == "none" || !w.Policy.PrintsOpen(false) {
		return
	}
	for _, i := range p.Rolls {
		if !w.Result.Rolls[i].OtherHand {
			l.rolls++
			l.others = append(l.others, fmt.Sprintf("passage %d, %s, %s: a chord offered to be rolled, not decided (roll, or as written)", p.Number, place, p.Hand.Words()))
		}
	}
}

// press lists what keeps a piece from press.
func (t *tally) press(piece string, left []string) {
	for _, line := range left {
		fmt.Fprintf(t.env.Stdout, "%s: %s\n", piece, line)
	}
	if len(left) > 0 {
		t.status = exitFindings
	}
}

// contradictions names decisions of which what one says was left open by another, or by another editor: an editor has
// to say it anew.
func (t *tally) contradictions(w *pipeline.PieceRun) {
	for i := range w.Result.Contradictions {
		if c := &w.Result.Contradictions[i]; c.Open || c.Cause == state.CauseEditors || c.Cause == state.CauseReturn {
			t.env.complain("%s: m. %s, %s: %s", w.Piece.ID, c.Measure, c.Hand.Words(), c.Words())
		}
	}
}
