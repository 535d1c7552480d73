// Package digitonnotewitnesslacks checks that digits have a source.
package digitonnotewitnesslacks

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: a digit of the composer stands on a note that no witness has.
var Rule = &lint.Rule{
	Name:     "digit-on-note-witness-lacks",
	Title:    "a digit of the composer stands on a note that no witness has",
	Checks:   "Digits of composer's responsibility on notes of the text that none of the aligned witnesses has.",
	Why:      "A digit cannot come from a source that lacks its note: it is the editor's, or the note is wrong.",
	Before:   "C5 with a composer's 3; no witness has a C5 there",
	After:    "the 3 given to the editor, or the note corrected",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	if len(p.Witnesses) == 0 {
		return
	}
	for n := range p.Score.Notes {
		if !p.Playing.Plays(n) || !p.OfComposer(n) {
			continue
		}
		lacking := 0
		for w := range p.Witnesses {
			if p.Witnesses[w].Note[n] < 0 && !p.Witnesses[w].Covered[n] {
				lacking++
			}
		}
		if lacking == len(p.Witnesses) {
			p.Report(lint.Finding{
				Notes: []int{n},
				Message: fmt.Sprintf(
					"the digit on %s counts as the composer's, but no witness has the note", p.Score.Notes[n].Pitch,
				),
				Fix: "say whose the digit is, or check the note",
			})
		}
	}
}
