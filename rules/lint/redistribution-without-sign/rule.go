// Package redistributionwithoutsign checks that redistributions are signed.
package redistributionwithoutsign

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: notes change hands without a sign.
var Rule = &lint.Rule{
	Name:  "redistribution-without-sign",
	Title: "notes change hands without a sign",
	Checks: "Redistributions that are decided: at their first note must stand a hand sign for the hand that takes " +
		"them, or a bracket must begin.",
	Why: "Without a sign the page says that the other hand plays them, and the digits are read for the wrong " +
		"hand.",
	Before:   "E4 of the left hand decided for the right; no sign in print",
	After:    "m.d. at the E4",
	Severity: lint.Error,
	Since:    "0.2",
	Options:  []string{"redistribute.marks"},
	Run:      run,
}

func run(p *lint.Inspection) {
	for _, r := range p.Redistributions {
		if !r.Decided || len(r.Notes) == 0 {
			continue
		}
		first := r.Notes[0]
		for _, n := range r.Notes {
			if p.Score.At(n).Less(p.Score.At(first)) {
				first = n
			}
		}
		if signed(p, first, r.To) {
			continue
		}
		p.Report(lint.Finding{
			Notes: []int{first},
			Message: fmt.Sprintf(
				"%s goes to the %s by decision, and no sign says so", p.Score.Notes[first].Pitch, r.To.Words(),
			),
			Fix: "print the sign of the hand",
		})
	}
}

func signed(p *lint.Inspection, n int, to score.Hand) bool {
	note := &p.Score.Notes[n]
	for i := range p.Score.Directions {
		d := &p.Score.Directions[i]
		if d.Part == note.Part && d.Measure == note.Measure && d.Onset.Cmp(note.Onset) <= 0 &&
			(d.Kind == score.HandSign && d.Hand == to || d.Kind == score.Bracket && d.Start) {
			return true
		}
	}
	return false
}
