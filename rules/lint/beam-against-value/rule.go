// Package beamagainstvalue checks that beams fit the notes under them.
package beamagainstvalue

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a beam does not fit the notes under it.
var Rule = &lint.Rule{
	Name:  "beam-against-value",
	Title: "a beam does not fit the notes under it",
	Checks: "Notes under a beam: as many beams as their value has flags, and each beam that begins ends at a later note of " +
		"its voice. Where a score does otherwise at many places, that is how it is written, and nothing is said.",
	Why:      "The beam shows the value and the beat. A sixteenth under one beam is read as an eighth.",
	Before:   "an eighth under two beams",
	After:    "one beam, or a sixteenth",
	Severity: lint.Warning,
	Since:    "0.16",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	printed := p.TextParts()
	for _, o := range p.Score.Oddities {
		if o.Kind == score.OddBeam && o.Note >= 0 && printed[o.Part] {
			p.Report(lint.Finding{
				Notes: []int{o.Note}, Line: o.Line, Message: o.Detail, Fix: "correct the beam, or the value of the note",
			})
		}
	}
}
