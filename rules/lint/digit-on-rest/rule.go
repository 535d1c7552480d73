// Package digitonrest checks that digits stand at notes.
package digitonrest

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a digit stands at a rest.
var Rule = &lint.Rule{
	Name:     "digit-on-rest",
	Title:    "a digit stands at a rest",
	Checks:   "Fingerings at rests of the piano parts.",
	Why:      "Nothing is played there. The digit belongs to the note before or after, or its note has become a rest.",
	Before:   "C5, a rest with 3, E5",
	After:    "C5, a rest, E5 with 3",
	Severity: lint.Warning,
	Since:    "0.5",
	Run:      run,
}

func run(p *lint.Inspection) {
	piano := p.PianoParts()
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if note.Kind != score.Rest || !piano[note.Part] {
			continue
		}
		for k := range note.Indications {
			if ind := &note.Indications[k]; !ind.Hidden {
				p.Report(lint.Finding{
					Notes: []int{n}, Line: ind.Line, Column: ind.Column,
					Message: fmt.Sprintf("the digit %s stands at a rest", ind.Text), Fix: "set it at its note, or take it out",
				})
			}
		}
	}
}
