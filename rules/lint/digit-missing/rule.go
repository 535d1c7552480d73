// Package digitmissing checks that digits show the reader where the hand moves.
package digitmissing

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
)

// Rule: the hand moves and no digit says so.
var Rule = &lint.Rule{
	Name:  "digit-missing",
	Title: "the hand moves and no digit says so",
	Checks: "Two single notes struck one after the other between which the fingering worked out passes the thumb " +
		"or shifts the hand, but for an outermost finger that takes a key beyond the hand, in a passage that has digits within four notes before and after, where neither note " +
		"has one in print. What a run adds counts as in print, except between digits that an editor has set in the " +
		"text: there the passage counts as fingered, and what it lacks is reported.",
	Why: "The digits that stand lead a reader on in the position that the hand has just left: the next digit comes " +
		"as a surprise.",
	Before:   "right hand: C4 with 1, D, E, F, G, A4 with 4; the thumb passes to F without a digit",
	After:    "the F with 1",
	Severity: lint.Note,
	Since:    "0.2",
	Options:  []string{"digits", "text_digits"},
	Run:      run,
}

const near = 4 // digits within so many notes on either side make it a fingered passage

func run(p *lint.Inspection) {
	for _, l := range p.Playing.Lines {
		reported := map[int]bool{}
		alongLine(p, l.Strokes, p.Printed, p.Printed, reported)
		alongLine(
			p, l.Strokes, func(n int) bool { return editors(p, n) }, func(n int) bool { return p.Digit(n) > 0 },
			reported,
		)
	}
}

// alongLine walks along a line between digits of one kind, over notes that have
// none of another kind.
func alongLine(p *lint.Inspection, strokes []playing.Stroke, bounds, has func(n int) bool, reported map[int]bool) {
	last := -1 - near // the last stroke before i that has a digit
	next := nextDigit(strokes, bounds)
	for i := 1; i < len(strokes); i++ {
		a, b := strokes[i-1].Notes, strokes[i].Notes
		if some(a, bounds) {
			last = i - 1
		}
		if len(a) != 1 || len(b) != 1 || some(a, has) || some(b, has) || reported[b[0]] || i-last > near ||
			next[i]-i > near {
			continue
		}
		n, m := a[0], b[0]
		f, g := p.Finger[n], p.Finger[m]
		if f == 0 || g == 0 || p.Score.Notes[n].Midi == p.Score.Notes[m].Midi || p.Reason[n] != "" ||
			p.Reason[m] != "" {
			continue
		}
		how := "the hand shifts"
		switch {
		case p.Crossed(n, m, f, g):
			how = "a finger passes over"
			switch 1 {
			case g:
				how = "the thumb passes"
			case f:
				how = "a finger passes over the thumb"
			}
		case f != g && (p.Profile.Excess(f, g, p.Outward(n, m)) == 0 || outermost(g, p.Outward(n, m))):
			continue
		}
		reported[m] = true
		p.Report(lint.Finding{
			Notes: []int{m, n},
			Message: fmt.Sprintf(
				"%s from %s (%d) to %s (%d), and no digit says so", how, p.Score.Notes[n].Pitch, f,
				p.Score.Notes[m].Pitch, g,
			),
			Fix: fmt.Sprintf("print the %d on %s", g, p.Score.Notes[m].Pitch),
		})
	}
}

// outermost says that a finger is the last one of the hand on the side to which it moves so far: nobody takes another (common
// practice; readers of panels struck these digits out).
func outermost(finger int, out hand.Length) bool {
	return out > 0 && finger == 5 || out < 0 && finger == 1
}

// editors says that a digit of an editor of this edition stands at a note.
func editors(p *lint.Inspection, n int) bool {
	for k, who := range p.Whose[n] {
		if who == score.Editor && len(p.Score.Notes[n].Indications[k].Fingers) > 0 {
			return true
		}
	}
	return false
}

func some(notes []int, is func(n int) bool) bool {
	return slices.ContainsFunc(notes, is)
}

// nextDigit gives for each stroke the first from it on that has a digit.
func nextDigit(s []playing.Stroke, is func(n int) bool) []int {
	out, next := make([]int, len(s)), len(s)+near+1
	for i := len(s) - 1; i >= 0; i-- {
		if some(s[i].Notes, is) {
			next = i
		}
		out[i] = next
	}
	return out
}
