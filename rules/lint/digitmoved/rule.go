// Package digitmoved checks that the witnesses' digits stand where they stood.
package digitmoved

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: a digit of the witness stands on another note.
var Rule = &lint.Rule{
	Name:     "digit-of-witness-moved",
	Title:    "a digit of the witness stands on another note",
	Checks:   "Digits that stand in an aligned witness on one note and in the text on the note before, after or beside it, which has none in the witness.",
	Why:      "A digit one note off is another fingering.",
	Before:   "witness A: C5 with 3, D5; the text: C5, D5 with 3",
	After:    "C5 with 3, D5",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Pass) {
	for w := range p.Witnesses {
		witness := &p.Witnesses[w]
		for m := range witness.Score.Notes {
			if to := lint.MovedTo(p, witness, m); to >= 0 {
				p.Report(lint.Finding{
					Notes:   []int{to, witness.Back[m]},
					Message: fmt.Sprintf("witness %s has %s on %s, the text on %s", witness.Siglum, lint.Spelled(&witness.Score.Notes[m]), p.Score.Notes[witness.Back[m]].Pitch, p.Score.Notes[to].Pitch),
					Fix:     "set the digit where the witness has it",
				})
			}
		}
	}
}
