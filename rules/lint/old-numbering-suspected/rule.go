// Package oldnumberingsuspected checks for the old numbering of fingers.
package oldnumberingsuspected

import (
	"fmt"

	"fingerproof/corpus/wording"
	"fingerproof/rules/lint"
)

// Rule: the old numbering of fingers is mixed with the new.
var Rule = &lint.Rule{
	Name:  "old-numbering-suspected",
	Title: "the old numbering of fingers is mixed with the new",
	Checks: "Pieces in which + or 0 (the thumb of the old numbering: + 1 2 3 4) stands beside a 5 of the new one, " +
		"a 5 beside several thumbs so written. One finding a piece, at the first of whichever is rarer. And " +
		"witnesses whose digits are one lower, or one higher, than the text's wherever both have one, on four " +
		"notes or more: another numbering than the one declared.",
	Why:      "In the old numbering a 2 is our 3. Read in the wrong one, every digit of the source is off by one.",
	Before:   "+ 1 2 3 and, two measures later, 5",
	After:    "1 2 3 4 throughout, the old numbering declared for its witness",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	witnesses(p)
	var old, five []int
	for n := range p.Score.Notes {
		for k := range p.Score.Notes[n].Indications {
			ind := &p.Score.Notes[n].Indications[k]
			if ind.Hidden {
				continue
			}
			if ind.Old {
				old = append(old, n)
			}
			for _, f := range ind.Fingers {
				if f == 5 {
					five = append(five, n)
					break
				}
			}
		}
	}
	if len(old) == 0 || len(five) == 0 {
		return
	}
	at := old[0]
	if len(five) < len(old) {
		at = five[0]
	}
	many := func(notes []int) string { return wording.Count(len(notes), "note") }
	p.Report(lint.Finding{
		Notes: []int{at},
		Message: fmt.Sprintf(
			"the thumb stands as + or 0 at %s, and a 5 at %s: two ways of numbering the fingers are mixed", many(old),
			many(five),
		),
		Fix: "declare the numbering of the witness the digits come from",
	})
}
