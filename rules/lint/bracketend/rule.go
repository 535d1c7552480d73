// Package bracketend checks that brackets end.
package bracketend

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a bracket or line for a hand has no end.
var Rule = &lint.Rule{
	Name:     "sign-without-end",
	Title:    "a bracket or line for a hand has no end",
	Checks:   "Brackets and dashed lines in the piano parts: each that begins must end, and none may end that has not begun.",
	Why:      "The reader cannot see how far the hand goes on; engraving draws the line to the end of the system or drops it.",
	Before:   "a bracket that starts at beat 1 and no stop",
	After:    "the stop at the last note meant",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Pass) {
	type line struct {
		part, number int
		kind         score.DirectionKind
	}
	piano := map[int]bool{}
	for n, is := range p.Piano {
		if is {
			piano[p.Score.Notes[n].Part] = true
		}
	}
	open := map[line]int{}
	var order []line
	for i := range p.Score.Directions {
		d := &p.Score.Directions[i]
		if d.Kind != score.Bracket && d.Kind != score.Dashes || !piano[d.Part] {
			continue
		}
		key := line{d.Part, d.Number, d.Kind}
		at, isOpen := open[key]
		switch {
		case d.Start && isOpen:
			report(p, at, "begins and does not end")
			open[key] = i
		case d.Start:
			open[key] = i
			order = append(order, key)
		case d.Stop && !isOpen:
			report(p, i, "ends and has not begun")
		case d.Stop:
			delete(open, key)
		}
	}
	for _, key := range order {
		if at, isOpen := open[key]; isOpen {
			report(p, at, "begins and does not end")
			delete(open, key)
		}
	}
}

func report(p *lint.Pass, i int, what string) {
	d := &p.Score.Directions[i]
	name := "a bracket"
	if d.Kind == score.Dashes {
		name = "a dashed line"
	}
	p.Report(lint.Finding{Measure: d.Measure, Onset: d.Onset, Line: d.Line, Column: d.Column, Message: name + " " + what, Fix: "put in the missing end"})
}
