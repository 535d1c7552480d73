// Package signagainstdigits checks hand signs against digits.
package signagainstdigits

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/lint"
)

// Rule: a hand sign and the digits contradict each other.
var Rule = &lint.Rule{
	Name:  "sign-against-digits",
	Title: "a hand sign and the digits contradict each other",
	Checks: "Chords under a hand sign, and runs of three and more single notes, whose digits lie in order for the " +
		"other hand and in none for the hand that the sign names, whichever of them plays them.",
	Why:      "One of the two is wrong: the digits were written for the other hand.",
	Before:   "m.s. at C4 E4 G4 with 1 3 5 from below",
	After:    "m.d., or 5 3 1 from below",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	signs := lint.SignsByPlace(p)
	reported := map[int]bool{}
	p.Chords(func(chord []int) {
		n := chord[0]
		d := lint.ObeyedAt(p, signs, n)
		if d < 0 || reported[d] {
			return
		}
		crossed, inOrder, last := 0, 0, -1
		for _, m := range chord {
			if p.Digit(m) == 0 || p.Playing.Rolled(m) {
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
		report(p, d, reported, []int{n}, "the chord "+p.KeysWithDigits(chord))
	})
	for _, l := range p.Playing.Lines {
		runs(p, l, signs, reported)
	}
	for d := range p.Score.Directions {
		if !reported[d] && p.Score.Directions[d].Kind == score.HandSign && !p.Score.Offered(&p.Score.Directions[d]) {
			notObeyed(p, d, reported)
		}
	}
}

// notObeyed reports a sign beside which the other hand goes on, with digits that lie in order for it.
func notObeyed(p *lint.Inspection, d int, reported map[int]bool) {
	sign := &p.Score.Directions[d]
	var row []int
	for n := range p.Score.Notes {
		x := &p.Score.Notes[n]
		if x.Part != sign.Part || x.Measure != sign.Measure || x.Staff != max(sign.Staff, 1) || x.Onset.Less(sign.Onset) ||
			x.Kind != score.Pitched || x.Grace > 0 || len(row) > 0 && x.Voice != p.Score.Notes[row[0]].Voice {
			continue
		}
		if x.Chord || p.Digit(n) == 0 || p.Playing.Hand(n) != sign.Hand.Other() || p.ChangesFinger(n) {
			break
		}
		row = append(row, n)
	}
	fingers := false
	for k := 1; k < len(row); k++ {
		a, b := p.Digit(row[k-1]), p.Digit(row[k])
		if a == b || p.Score.Notes[row[k-1]].Midi == p.Score.Notes[row[k]].Midi || p.Crossed(row[k-1], row[k], a, b) {
			row = row[:k]
			break
		}
		fingers = fingers || a > 1 && b > 1
	}
	if len(row) >= long && fingers {
		report(p, d, reported, row[:1], runOf(p, row[0], row[len(row)-1]))
	}
}

func report(p *lint.Inspection, d int, reported map[int]bool, notes []int, of string) {
	reported[d] = true
	sign := &p.Score.Directions[d]
	p.Report(lint.Finding{
		Notes: notes, Line: sign.Line, Column: sign.Column,
		Message: fmt.Sprintf("under %q the digits of %s lie in order for the other hand", sign.Text, of),
		Fix:     "change the sign, or give digits for the hand it names",
	})
}

// long is how many single notes with digits make a run.
const long = 3

// runs reports runs under a sign in which each digit lies on the wrong side of
// the one before. With the thumb that may be one passing after the other; two
// other fingers at least must cross.
func runs(p *lint.Inspection, l playing.Line, signs lint.Signs, reported map[int]bool) {
	for from := 0; from < len(l.Strokes); from++ {
		d, fingers := -1, false
		to := from
		for ; to < len(l.Strokes) && len(l.Strokes[to].Notes) == 1; to++ {
			n := l.Strokes[to].Notes[0]
			if at := lint.ObeyedAt(p, signs, n); at < 0 || reported[at] || to > from && at != d || p.Digit(n) == 0 {
				break
			} else if to == from {
				d = at
				continue
			}
			before := l.Strokes[to-1].Notes[0]
			if !p.Crossed(before, n, p.HoldingFinger(before), p.Digit(n)) {
				break
			}
			fingers = fingers || p.HoldingFinger(before) > 1 && p.Digit(n) > 1
		}
		if to-from < long || !fingers {
			continue
		}
		first, last := l.Strokes[from].Notes[0], l.Strokes[to-1].Notes[0]
		report(p, d, reported, []int{first}, runOf(p, first, last))
		from = to - 1
	}
}

func runOf(p *lint.Inspection, first, last int) string {
	return "the run from " + p.Score.Notes[first].Pitch.String() + " to " + p.Score.Notes[last].Pitch.String()
}
