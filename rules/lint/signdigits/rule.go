// Package signdigits checks hand signs against digits.
package signdigits

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: a hand sign and the digits contradict each other.
var Rule = &lint.Rule{
	Name:     "sign-against-digits",
	Title:    "a hand sign and the digits contradict each other",
	Checks:   "Chords under a hand sign whose digits lie in order for the other hand and in none for the hand that the sign names.",
	Why:      "One of the two is wrong: the digits were written for the other hand.",
	Before:   "m.s. at C4 E4 G4 with 1 3 5 from below",
	After:    "m.d., or 5 3 1 from below",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Pass) {
	signs := lint.SignsByPlace(p)
	told := map[int]bool{}
	p.Chords(func(chord []int) {
		n := chord[0]
		d := lint.ObeyedAt(p, signs, n)
		if d < 0 || told[d] {
			return
		}
		crossed, inOrder, last := 0, 0, -1
		for _, m := range chord {
			if p.Digit(m) == 0 || p.Score.Notes[m].Arpeggio.Rolled {
				continue
			}
			if last >= 0 {
				if p.Crossed(last, m, p.Digit(last), p.Digit(m)) {
					crossed++
				} else {
					inOrder++
				}
			}
			last = m
		}
		if crossed == 0 || inOrder > 0 {
			return
		}
		told[d] = true
		sign := &p.Score.Directions[d]
		p.Report(lint.Finding{
			Notes: []int{n}, Line: sign.Line, Column: sign.Column,
			Message: fmt.Sprintf("under %q the digits of the chord lie in order for the other hand", sign.Text),
			Fix:     "another sign, or digits for the hand it names",
		})
	})
}
