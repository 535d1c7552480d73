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
		"again in the same measure with no other sign between, on either staff, and no note of the other hand on theirs. Two signs at a chord, or at a note with grace " +
		"notes on the two sides of the staff, share it out and are left alone.",
	Why: "A sign that names the hand which has the passage already, or two that name both, shows that one of them " +
		"is wrong or a sign between has been lost.",
	Before:   "m.s. on beat 1, m.s. on beat 3 of the same measure",
	After:    "m.s. on beat 1, m.d. on beat 3",
	Severity: lint.Warning,
	Mildest:  lint.Note,
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
		switch {
		case before.Onset == d.Onset && before.Hand != d.Hand:
			if keys(p, d) > 1 && !(alone(p, d) && before.Above == d.Above && before.Below == d.Below && (d.Above || d.Below)) {
				delete(last, at) // from here both hands play on this staff
				continue
			}
			p.ReportSign(i, lint.Finding{
				Message: fmt.Sprintf("%q and %q stand at one key", before.Text, d.Text), Fix: fix,
			})
		case before.Hand == d.Hand:
			if otherBetween(p, k, i) || signsOf(p, d) >= stream {
				continue // the hands take turns: each sign is of use
			}
			p.ReportSign(i, lint.Finding{
				Severity: lint.Note, Fix: fix, // it may remind
				Message: fmt.Sprintf("%q names the hand that %q before it has named already", d.Text, before.Text),
			})
		}
	}
}

const fix = "take one sign out, or put the lost one in"

// stream is from how many signs for one hand in a measure on each place of it has its own.
const stream = 3

// signsOf counts the signs of a measure that name the hand of a sign on its staff.
func signsOf(p *lint.Inspection, sign *score.Direction) (count int) {
	for k := range p.Score.Directions {
		d := &p.Score.Directions[k]
		if d.Kind == score.HandSign && d.Part == sign.Part && d.Staff == sign.Staff && d.Measure == sign.Measure &&
			d.Hand == sign.Hand {
			count++
		}
	}
	return count
}

// otherBetween says that between two signs for one hand, the second included, a sign on any staff names the other hand, or
// that hand strikes something on their staff.
func otherBetween(p *lint.Inspection, from, to int) bool {
	a, b := &p.Score.Directions[from], &p.Score.Directions[to]
	within := func(measure int, onset score.Fraction) bool {
		return measure == a.Measure && !onset.Less(a.Onset) && onset.Cmp(b.Onset) <= 0
	}
	for k := range p.Score.Directions {
		d := &p.Score.Directions[k]
		if d.Kind == score.HandSign && d.Part == a.Part && d.Hand == a.Hand.Other() && within(d.Measure, d.Onset) {
			return true
		}
	}
	for n := range p.Score.Notes {
		x := &p.Score.Notes[n]
		if x.Part == a.Part && x.Staff == max(a.Staff, 1) && x.Struck() && p.Playing.Hand(n) == a.Hand.Other() &&
			within(x.Measure, x.Onset) && x.Onset.Less(b.Onset) {
			return true
		}
	}
	return false
}

// alone says that all that is struck on the staff of a sign at its place is one note, with grace notes before it.
func alone(p *lint.Inspection, d *score.Direction) bool {
	count := 0
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if note.Measure == d.Measure && note.Part == d.Part && note.Staff == max(d.Staff, 1) && note.Onset == d.Onset && note.Grace == 0 && note.Struck() {
			count++
		}
	}
	return count == 1
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
