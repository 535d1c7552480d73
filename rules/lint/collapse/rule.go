// Package collapse checks what becomes of a fingering at the tempo.
package collapse

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: a fingering is best in practice and collapses at the tempo.
var Rule = &lint.Rule{
	Name:     "collapses-at-tempo",
	Title:    "a fingering is best in practice and collapses at the tempo",
	Checks:   "Passages in which the digits that stand are those that serve best at the tempo of practice (`tempo.practice`), and cost much more at the tempo of the piece. Where the tempo is inferred it is at most a note.",
	Why:      "What is learnt slowly has to be learnt again. A fingering should be tried fast before it is fixed.",
	Before:   "a run fingered with jumps that vanish at half speed",
	After:    "the fingering that holds at the tempo",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Pass) {
	for _, passage := range p.Collapses {
		var standing []int
		for _, n := range passage {
			if p.Digit(n) > 0 && p.Digit(n) == p.Given[n] {
				standing = append(standing, n)
			}
		}
		severity, what := lint.Note, "what serves best in practice here does not hold at the tempo"
		if len(standing) > 0 {
			severity, what = p.AtTempo(), "the digits here serve in practice and do not hold at the tempo"
		}
		p.Report(lint.Finding{
			Severity: severity, Notes: passage,
			Message: fmt.Sprintf("%s (%d notes)", what, len(passage)),
			Fix:     "try the fingering that is worked out for the tempo",
		})
	}
}
