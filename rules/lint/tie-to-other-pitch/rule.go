// Package tietootherpitch checks that ties keep to their key.
package tietootherpitch

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: a tie leads to another pitch.
var Rule = &lint.Rule{
	Name:  "tie-to-other-pitch",
	Title: "a tie leads to another pitch",
	Checks: "Ties that start at a note and arrive at the next one of the voice, which is another key. Either a pitch is " +
		"wrong, or the tie is a slur.",
	Why:      "A tied key is not struck again, a slurred one is: the two read alike and are played differently.",
	Before:   "C4 tied to D4",
	After:    "C4 tied to C4, or C4 and D4 under a slur",
	Severity: lint.Warning,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	for n := range p.Score.Notes {
		if m := p.TieToOther(n); m >= 0 && p.Shows(n) {
			p.Report(lint.Finding{
				Notes:   []int{n, m},
				Message: fmt.Sprintf("a tie leads from %s to %s", p.Score.Notes[n].Pitch, p.Score.Notes[m].Pitch),
				Fix:     "correct the pitch, or make the tie a slur",
			})
		}
	}
}
