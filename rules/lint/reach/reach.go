// Package reach passes on where no grip fits the hand.
package reach

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule reports notes for which no fingering within the hand was found.
var Rule = &lint.Rule{
	Name:     "grip-out-of-reach",
	Title:    "no grip of the hand takes these notes",
	Checks:   "Every grip for which the search found nothing within the limits of the policy's hand, or for which the digits in the text leave nothing, with the reason.",
	Why:      "The player has to do something here that no digit tells: roll the chord, leave a key to the pedal, or give a note to the other hand. Wide stretches strain hands.",
	Before:   "left hand: C2 and E3 struck together, fingered for the octave hand",
	After:    "the chord marked to be rolled, or the E3 given to the right hand",
	Severity: lint.Warning,
	Since:    "0.1",
	Run:      run,
}

func run(p *lint.Pass) {
	for n := range p.Score.Notes {
		chord := p.Sounding[n]
		if p.Reason[n] == "" || !p.Score.Notes[n].Struck() || contradictory(p, chord) || stacked(p, chord) {
			continue
		}
		first := true // one finding a chord: at its lowest note out of reach
		for _, m := range chord {
			if m == n {
				break
			}
			first = first && p.Reason[m] == ""
		}
		if first {
			p.Report(lint.Finding{
				Notes: []int{n}, Message: fmt.Sprintf("%s: %s, for the %s", grip(p, chord), p.Reason[n], p.HandName),
				Fix: "roll it, leave a held key to the pedal, or give a note to the other hand",
			})
		}
	}
}

// grip names the keys that are struck, and those held besides where the hand
// would open to the struck ones alone.
func grip(p *lint.Pass, chord []int) string {
	out := p.Keys(chord)
	low, high := p.Score.Notes[chord[0]].Midi, p.Score.Notes[chord[len(chord)-1]].Midi
	if held := p.HeldUnder(chord[0]); len(held) > 0 && len(chord) <= 5 && p.Profile.Fits(low, high) {
		out += " over the held " + p.Keys(held)
	}
	return out
}

// contradictory reports whether the text gives one finger to two keys of a
// chord: then the digits are at fault, not the hand, and their own rule says so.
func contradictory(p *lint.Pass, chord []int) bool {
	seen := [6]bool{}
	for _, n := range chord {
		f := p.Given[n]
		if f > 0 && seen[f] {
			return true
		}
		seen[f] = true
	}
	return false
}

// stacked says that the chord's digits stand in a row at one of its notes: which
// of them is whose is not for this rule to say.
func stacked(p *lint.Pass, chord []int) bool {
	for _, n := range chord {
		digits := 0
		for k := range p.Score.Notes[n].Indications {
			if ind := &p.Score.Notes[n].Indications[k]; !ind.Substitution && !ind.Alternate && len(ind.Fingers) > 0 {
				digits++
			}
		}
		if digits > 1 && len(chord) > 1 {
			return true
		}
	}
	return false
}
