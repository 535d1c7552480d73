// Package signnext checks hand signs against each other.
package signnext

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: two hand signs contradict or repeat each other.
var Rule = &lint.Rule{
	Name:     "sign-against-next-sign",
	Title:    "two hand signs contradict or repeat each other",
	Checks:   "Hand signs of one staff: two at one place that name different hands, and the same hand named again in the same measure with no other sign between.",
	Why:      "A sign that names the hand which has the passage already, or two that name both, shows that one of them is wrong or a sign between has been lost.",
	Before:   "m.s. on beat 1, m.s. on beat 3 of the same measure",
	After:    "m.s. on beat 1, m.d. on beat 3",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Pass) {
	type place struct {
		part, staff int
		voice       string
	}
	last := map[place]int{}
	for i := range p.Score.Directions {
		d := &p.Score.Directions[i]
		if d.Kind != score.HandSign {
			continue
		}
		at := place{d.Part, d.Staff, d.Voice}
		k, seen := last[at]
		last[at] = i
		if !seen || p.Score.Directions[k].Measure != d.Measure {
			continue
		}
		before := &p.Score.Directions[k]
		message := ""
		switch {
		case before.Onset == d.Onset && before.Hand != d.Hand:
			message = fmt.Sprintf("%q and %q stand at one place", before.Text, d.Text)
		case before.Hand == d.Hand:
			message = fmt.Sprintf("%q names the hand that %q before it has named already", d.Text, before.Text)
		default:
			continue
		}
		p.Report(lint.Finding{Measure: d.Measure, Onset: d.Onset, Hand: d.Hand, Line: d.Line, Column: d.Column, Message: message, Fix: "take one sign out, or put the lost one in"})
	}
}
