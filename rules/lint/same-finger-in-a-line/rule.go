// Package samefingerinaline checks that a line can connect.
package samefingerinaline

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: one finger plays two keys of a line that connects.
var Rule = &lint.Rule{
	Name:  "same-finger-in-a-line",
	Title: "one finger plays two keys of a line that connects",
	Checks: "Two single notes under one slur with the same digit on different keys. A slide from a black key to " +
		"its white neighbour is accepted.",
	Why: "The finger must leave the first key before it takes the second: the line breaks where the slur says it " +
		"must not.",
	Before:   "one slur: E4 with 3, F4 with 3",
	After:    "one slur: E4 with 3, F4 with 4",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	p.Successions(func(n, m int) {
		f := p.Digit(m)
		if f == 0 || p.HoldingFinger(n) != f || p.Score.Notes[n].Midi == p.Score.Notes[m].Midi || !p.Connects(n, m) {
			return
		}
		if p.Black(n) && !p.Black(m) && p.Semitones(n, m) <= 2 {
			return // the finger slides down
		}
		if p.Score.Notes[n].Marks&score.Glissando != 0 {
			return
		}
		p.Report(lint.Finding{
			Notes: []int{m, n},
			Message: fmt.Sprintf(
				"%d plays %s and then %s under one slur", f, p.Score.Notes[n].Pitch, p.Score.Notes[m].Pitch,
			),
			Fix: "give one of them another finger, or end the slur",
		})
	})
}
