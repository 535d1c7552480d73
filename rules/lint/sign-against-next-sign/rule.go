// Package signagainstnextsign checks hand signs against each other.
package signagainstnextsign

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
	"fmt"
)

// Rule: two hand signs contradict or repeat each other.
var Rule = &lint.Rule{
	Name:  "sign-against-next-sign",
	Title: "two hand signs contradict or repeat each other",
	Checks: "Hand signs of one staff, in time: two at one key that name different hands, and the same hand named " +
		"again in the same measure with no other sign between. Two signs at a chord, or at a note with grace " +
		"notes, share it out and are left alone.",
	Why: "A sign that names the hand which has the passage already, or two that name both, shows that one of them " +
		"is wrong or a sign between has been lost.",
	Before:   "m.s. on beat 1, m.s. on beat 3 of the same measure",
	After:    "m.s. on beat 1, m.d. on beat 3",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	type place struct {
		part, staff int
		voice       string
	}
	last := map[place]int{}
	for _, i := range p.InTime(func(d *score.Direction) bool { return d.Kind == score.HandSign }) {
		d := &p.Score.Directions[i]
		at := place{d.Part, d.Staff, d.Voice}
		k, seen := last[at]
		last[at] = i
		if !seen || p.Score.Directions[k].Measure != d.Measure {
			continue
		}
		before := &p.Score.Directions[k]
		message, severity := "", lint.Warning
		switch {
		case before.Onset == d.Onset && before.Hand != d.Hand:
			if keys(p, d) > 1 {
				delete(last, at) // from here both hands play on this staff
				continue
			}
			message = fmt.Sprintf("%q and %q stand at one key", before.Text, d.Text)
		case before.Hand == d.Hand:
			message = fmt.Sprintf("%q names the hand that %q before it has named already", d.Text, before.Text)
			severity = lint.Note // it may remind
		default:
			continue
		}
		p.ReportSign(i, lint.Finding{Severity: severity, Message: message, Fix: "take one sign out, or put the lost one in"})
	}
}

// keys counts what is struck on the staff of a sign at its place, grace notes
// included.
func keys(p *lint.Inspection, d *score.Direction) int {
	count := 0
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if note.Measure == d.Measure && note.Part == d.Part && note.Staff == max(d.Staff, 1) && note.Onset == d.Onset &&
			p.Playing.Plays(n) && note.Struck() {
			count++
		}
	}
	return count
}
