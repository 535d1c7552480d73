// Package digitlost checks that the witnesses' digits are kept.
package digitlost

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: a digit of the witness is lost.
var Rule = &lint.Rule{
	Name:     "digit-of-witness-lost",
	Title:    "a digit of the witness is lost",
	Checks:   "Digits that stand in an aligned witness on a note that the text has, and not on that note in the text: neither there nor, moved, on a note beside it.",
	Why:      "The composer's digits are part of the text. What is left out without a word is a loss.",
	Before:   "witness A: C5 with 3; the text: C5 without a digit",
	After:    "the C5 with 3 in the text as well",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Pass) {
	p.WitnessDigits(func(w *lint.Witness, m, n int, text string) {
		if len(p.Score.Notes[n].Indications) > 0 || lint.MovedTo(p, w, m) >= 0 {
			return
		}
		p.Report(lint.Finding{
			Notes:   []int{n},
			Message: fmt.Sprintf("witness %s has %s on %s, the text has no digit", w.Siglum, text, p.Score.Notes[n].Pitch),
			Fix:     "put the digit in, or say in the commentary why not",
		})
	})
}
