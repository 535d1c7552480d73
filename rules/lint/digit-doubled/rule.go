// Package digitdoubled checks that no digit stands twice.
package digitdoubled

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: a digit stands twice at one note.
var Rule = &lint.Rule{
	Name:  "digit-doubled",
	Title: "a digit stands twice at one note",
	Checks: "Two digits of one note that are the same and no change of finger. Digits given out over a chord, " +
		"and signs that stand for more notes (trills, tremolos), are left alone.",
	Why: "The second was entered or merged by mistake. Printed over each other they look bold; side by side they read " +
		"as a change from a finger to itself.",
	Before:   "C5 with 3 and 3",
	After:    "C5 with 3 alone",
	Severity: lint.Warning,
	Since:    "0.5",
	Run:      run,
}

func run(p *lint.Inspection) {
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if len(note.Indications) < 2 || len(note.Ornaments) > 0 && len(note.Indications) != 2 || note.Tremolo.Strokes > 0 {
			continue // two of an ornament's neighbouring notes have no one finger
		}
		if ind := p.DoubledDigit(n); ind != nil {
			p.Report(lint.Finding{
				Notes: []int{n}, Line: ind.Line, Column: ind.Column,
				Message: fmt.Sprintf("the %s stands twice at %s", ind.Text, note.Pitch), Fix: "take one of them out",
			})
		}
	}
}
