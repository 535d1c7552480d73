// Package contentnofinger checks what stands in a digit.
package contentnofinger

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule reports fingering text that names no finger.
var Rule = &lint.Rule{
	Name:  "content-no-finger",
	Title: "a fingering says something that is no finger",
	Checks: "The text of every fingering: digits 1 to 5, alone, in a row, as a change (4-3), in parentheses or " +
		"brackets. The + of the old numbering is accepted; where it is mixed with a 5 another rule looks at it.",
	Why:      "A 6, a 0 or a letter in place of a digit is a slip of the keyboard that engraving passes on unread.",
	Before:   "fingering “33”",
	After:    "fingering “3”",
	Severity: lint.Error,
	Since:    "0.1",
	Run:      run,
}

func run(p *lint.Inspection) {
	for n := range p.Score.Notes {
		for _, ind := range p.Score.Notes[n].Indications {
			if len(ind.Fingers) > 0 || ind.Old {
				continue
			}
			pitch := p.Score.Notes[n].Pitch
			message := fmt.Sprintf("the fingering %q on %s is no finger", ind.Text, pitch)
			if ind.Text == "" {
				message = fmt.Sprintf("the fingering on %s is empty", pitch)
			}
			p.Report(lint.Finding{
				Notes: []int{n}, Message: message, Line: ind.Line, Column: ind.Column,
				Fix: "write one of 1 2 3 4 5, or a change such as 4-3",
			})
		}
	}
}
