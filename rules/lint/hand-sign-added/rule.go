// Package handsignadded names the hand signs that an edition adds.
package handsignadded

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/lint"
)

// Rule: a hand sign is added that nobody decided.
var Rule = &lint.Rule{
	Name:  "hand-sign-added",
	Title: "a hand sign is added that nobody decided",
	Checks: "Hand signs that the house style adds where notes of a staff go over to the hand of the other one, and neither the text nor " +
		"an editor says so: the program told the hand from digits, beams, voices or the place of the keys. " +
		"Lint of scores that no manifest lists does not tell it: the sign is of the edition that a run makes.",
	Why: "The sign prints, and its reader takes it for the editor's word. Which hand plays is as much a guess there as a suggested " +
		"finger.",
	Before:   "three notes of the lower staff bear 1 2 3 upwards, which fits the right hand alone; [m.d.] is printed",
	After:    "the sign let stand with a reason, or the notes given to the other hand by decision",
	Severity: lint.Note,
	Since:    "0.26",
	Options:  []string{"signs.changes"},
	Run:      run,
}

func run(p *lint.Inspection) {
	type staff struct{ part, staff int }
	last := map[staff]int{} // the finding that a way back belongs to
	var found []lint.Finding
	for _, sign := range p.AddedSigns {
		n := &p.Score.Notes[sign.Note]
		at := staff{n.Part, n.HomeStaff}
		home, words := score.Right, "upper"
		if n.HomeStaff > 1 {
			home, words = score.Left, "lower"
		}
		k, gone := last[at]
		by := p.Playing.By(sign.Note)
		switch {
		case sign.Hand == home && gone:
			found[k].Notes = append(found[k].Notes, sign.Note)
			found[k].Message += fmt.Sprintf("; %s in m. %s gives them back", sign.Text, p.Score.Measures[n.Measure].Number)
		case sign.Hand == home || by == playing.BySign || by == playing.ByDecision:
			delete(last, at)
		default:
			last[at] = len(found)
			found = append(found, lint.Finding{
				Notes: []int{sign.Note},
				Message: fmt.Sprintf("%s is added at %s: the %s plays notes of the %s staff there, for %s", sign.Text,
					n.Pitch, sign.Hand.Words(), words, by.Words()),
				Fix: "let the sign stand with a reason, or give the notes to the other hand by decision",
			})
		}
	}
	for _, f := range found {
		p.Report(f)
	}
}
