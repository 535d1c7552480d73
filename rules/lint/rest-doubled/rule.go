// Package restdoubled checks that rests of several voices do not double each other.
package restdoubled

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: two voices of a staff print the same rest.
var Rule = &lint.Rule{
	Name:  "rest-doubled",
	Title: "two voices of a staff print the same rest",
	Checks: "Rests on one staff that begin together and last equally long, both printed: of two voices, told once a piece with " +
		"its measures, or of one.",
	Why:      "One rest for both voices is enough (common practice); the second crowds the staff.",
	Before:   "both voices of the upper staff with a quarter rest on beat 1",
	After:    "one quarter rest",
	Severity: lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	type place struct {
		part, staff int
		at, length  score.Fraction
	}
	first := map[place]int{}
	piano := p.PianoParts()
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if note.Kind != score.Rest || note.Hidden || note.Cue || !piano[note.Part] || note.Duration.Sign() == 0 {
			continue
		}
		at := place{note.Part, note.Staff, p.Score.At(n), note.Duration}
		m, is := first[at]
		if !is {
			first[at] = n
			continue
		}
		if p.Score.Notes[m].Voice == note.Voice {
			p.Report(lint.Finding{Notes: []int{n, m}, Message: "the rest stands here twice", Fix: "print it once"})
		} else {
			p.Report(lint.Finding{
				Notes:   []int{n, m},
				Message: fmt.Sprintf("voices %s and %s print the same rest", p.Score.Notes[m].Voice, note.Voice),
				Fix:     "print one rest for both", Together: lint.OnceAPiece,
			})
		}
	}
}
