// Package spanbeyondhand checks grips against the hand the edition is fingered for.
package spanbeyondhand

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule reports two fingers of one hand asked to hold keys that lie farther
// apart than the hand opens.
var Rule = &lint.Rule{
	Name:  "span-beyond-hand",
	Title: "a span is beyond the hand",
	Checks: "Every two keys that one hand strikes together, with the fingers given to them, against the widest " +
		"span of that pair of fingers in the hand of the policy. Where the two stand on different stems the hand " +
		"is a guess and the finding milder, as where an inner pair goes beyond by less than a seventh, and where an " +
		"editor decided the digits of " +
		"a chord whose outer keys the hand does not open to with any. One finding a chord.",
	Why: "A grip that the hand cannot open to is no fingering. Players who force it may hurt themselves; the " +
		"edition should roll, redistribute or refinger it.",
	Before:   "right hand: C4 with 1 and E5 with 5 struck together, fingered for the octave hand",
	After:    "the E5 rolled after the C4, or the C4 taken by the left hand",
	Severity: lint.Error,
	Since:    "0.1",
	Options:  []string{"hand", "span_mm"},
	Run:      run,
}

func run(p *lint.Inspection) {
	p.BlockChords(func(chord []int) {
		low, high, _ := lint.GreatestPair(chord, func(a, b int) int { return int(p.BeyondHand(a, b)) })
		if low >= 0 { // one finding a chord, at what goes farthest beyond
			report(p, chord, low, high)
		}
	})
}

// report is an error where the hand is sure and the span past doubt: what thumb
// and fifth finger span is measured, what inner pairs span is our own estimate,
// and printed digits stretch it.
func report(p *lint.Inspection, chord []int, low, high int) {
	a, b := p.AskedFinger(low), p.AskedFinger(high)
	notes := p.Score.Notes
	f := lint.Finding{
		Notes: []int{low, high},
		Message: fmt.Sprintf(
			"%s with %d and %s with %d lie farther apart than the %s opens", notes[low].Pitch, a, notes[high].Pitch, b,
			p.HandName,
		),
		Fix: "roll it, or give a note to the other hand",
	}
	outer := a+b == 6 && a != b && (a == 1 || b == 1)
	doubtful := !outer && 100*p.BeyondHand(low, high) < 15*p.Profile.Practical(a, b)
	if doubtful || !p.OneStem(low, high) || noDigitHelps(p, chord, low, high) {
		f.Severity = lint.Warning // where the hand is worked out, the other one may take it
	}
	p.Report(f)
}

// noDigitHelps says that an editor decided one of the digits and that the hand opens to the chord with no others:
// what is beyond the hand is the music, which stood there before anything was decided.
func noDigitHelps(p *lint.Inspection, chord []int, low, high int) bool {
	lowest, highest := p.Score.Notes[chord[0]].Midi, p.Score.Notes[chord[len(chord)-1]].Midi
	outer := [2]int{1, 5}
	if p.Playing.Hand(low) == score.Left {
		outer = [2]int{5, 1}
	}
	return (p.DecidedFinger(low) > 0 || p.DecidedFinger(high) > 0) &&
		!p.FitsHand(p.Playing.Hand(low), lowest, highest, outer[0], outer[1])
}
