// Package digitofwitnessmoved checks that the witnesses' digits stand where they stood.
package digitofwitnessmoved

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: a digit of the witness stands on another note.
var Rule = &lint.Rule{
	Name:  "digit-of-witness-moved",
	Title: "a digit of the witness stands on another note",
	Checks: "Digits that stand in an aligned witness on one note and in the text on the note before, after or " +
		"beside it, which has none in the witness.",
	Why:      "A digit one note off is another fingering.",
	Before:   "witness A: C5 with 3, D5; the text: C5, D5 with 3",
	After:    "C5 with 3, D5",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	p.WitnessDigits(func(w *lint.Witness, m, n int, text string) {
		to := lint.MovedTo(p, w, m)
		if to < 0 {
			return
		}
		p.Report(lint.Finding{
			Notes: []int{to, n},
			Message: fmt.Sprintf(
				"witness %s has %s on %s, the text on %s", w.Siglum, text, p.Score.Notes[n].Pitch,
				p.Score.Notes[to].Pitch,
			),
			Fix: "set the digit where the witness has it",
		})
	})
}
