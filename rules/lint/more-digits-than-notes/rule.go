// Package moredigitsthannotes checks that each digit has its note.
package moredigitsthannotes

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: there are more digits than notes.
var Rule = &lint.Rule{
	Name:  "more-digits-than-notes",
	Title: "there are more digits than notes",
	Checks: "Digits at the notes that one hand strikes together, alternatives, changes of finger and signs that " +
		"stand for more notes left out: more digits than notes.",
	Why: "One of the digits belongs elsewhere, or is an alternative or a change of finger that is not marked as " +
		"one.",
	Before:   "a single C5 with 2 and 3, neither marked",
	After:    "C5 with 2 3 marked as a change of finger, or with one of them",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	for n := range p.Score.Notes {
		chord := p.Playing.Together(n)
		if len(chord) == 0 || chord[0] != n {
			continue
		}
		count, first := 0, -1
		for _, m := range chord {
			note := &p.Score.Notes[m]
			if len(note.Ornaments) > 0 || note.Tremolo.Strokes > 0 {
				count = -1
				break
			}
			for k := range note.Indications {
				ind := &note.Indications[k]
				if !ind.Alternate && !ind.Substitution && !ind.Hidden && len(ind.Fingers) > 0 {
					count++
				}
			}
			if first < 0 && len(note.Indications) > 1 {
				first = m
			}
		}
		if count <= len(chord) || first < 0 || p.DoubledDigit(first) != nil {
			continue
		}
		what := p.Keys(chord) + ", one note"
		if len(chord) > 1 {
			what = fmt.Sprintf("the %d notes %s", len(chord), p.Keys(chord))
		}
		p.Report(lint.Finding{
			Notes:   []int{first},
			Message: fmt.Sprintf("%d digits stand at %s", count, what),
			Fix:     "mark the change of finger or the alternative as what it is, or take one digit out",
		})
	}
}
