// Package missing checks that the reader is told where the hand moves.
package missing

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: the hand moves and no digit says so.
var Rule = &lint.Rule{
	Name:     "digit-missing",
	Title:    "the hand moves and no digit says so",
	Checks:   "Two single notes struck one after the other between which the fingering worked out passes the thumb or shifts the hand, in a passage that has digits within four notes before and after, where neither note has one in print.",
	Why:      "The digits that stand lead a reader on in the position that the hand has just left: the next digit comes as a surprise.",
	Before:   "right hand: C4 with 1, D, E, F, G, A4 with 4; the thumb passes to F without a digit",
	After:    "the F with 1",
	Severity: lint.Note,
	Since:    "0.2",
	Run:      run,
}

const near = 4 // digits within so many notes on either side make it a fingered passage

func run(p *lint.Pass) {
	for _, l := range p.Lines() {
		last := -1 - near // the last stroke before i that has a digit
		next := nextDigit(p, l.Strokes)
		for i := 1; i < len(l.Strokes); i++ {
			a, b := l.Strokes[i-1], l.Strokes[i]
			if digits(p, a) {
				last = i - 1
			}
			if len(a) != 1 || len(b) != 1 || digits(p, a) || digits(p, b) || i-last > near || next[i]-i > near {
				continue
			}
			n, m := a[0], b[0]
			f, g := p.Finger[n], p.Finger[m]
			if f == 0 || g == 0 || p.Score.Notes[n].Midi == p.Score.Notes[m].Midi || p.Reason[n] != "" || p.Reason[m] != "" {
				continue
			}
			how := "the hand shifts"
			switch {
			case p.Crossed(n, m, f, g):
				how = "the thumb passes"
				if f != 1 && g != 1 {
					how = "a finger passes over"
				}
			case f != g && p.Profile.Excess(f, g, p.Outward(n, m)) == 0:
				continue
			}
			p.Report(lint.Finding{
				Notes:   []int{m, n},
				Message: fmt.Sprintf("%s here (%s with %d), and no digit says so", how, p.Score.Notes[m].Pitch, g),
				Fix:     fmt.Sprintf("print %d", g),
			})
		}
	}
}

func digits(p *lint.Pass, s lint.Stroke) bool {
	for _, n := range s {
		if p.Printed(n) {
			return true
		}
	}
	return false
}

// nextDigit gives for each stroke the first from it on that has a digit.
func nextDigit(p *lint.Pass, s []lint.Stroke) []int {
	out, next := make([]int, len(s)), len(s)+near+1
	for i := len(s) - 1; i >= 0; i-- {
		if digits(p, s[i]) {
			next = i
		}
		out[i] = next
	}
	return out
}
