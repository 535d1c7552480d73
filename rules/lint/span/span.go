// Package span checks grips against the hand the edition is fingered for.
package span

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule reports two fingers of one hand asked to hold keys that lie farther
// apart than the hand opens.
var Rule = &lint.Rule{
	Name:     "span-beyond-hand",
	Title:    "a span is beyond the hand",
	Checks:   "Every two keys that one hand strikes together, with the fingers given to them, against the widest span of that pair of fingers in the hand of the policy. Where the two stand on different stems the hand is a guess and the finding milder.",
	Why:      "A grip that the hand cannot open to is no fingering. Players who force it may hurt themselves; the edition should roll, redistribute or refinger it.",
	Before:   "right hand: C4 with 1 and E5 with 5 struck together, fingered for the octave hand",
	After:    "the E5 rolled after the C4, or the C4 taken by the left hand",
	Severity: lint.Error,
	Since:    "0.1",
	Run:      run,
}

func run(p *lint.Pass) {
	for n := range p.Score.Notes {
		chord := p.Sounding[n]
		// Each set is looked at once, from its lowest struck note.
		if len(chord) < 2 || chord[0] != n {
			continue
		}
		if p.Score.Notes[n].Arpeggio.Rolled {
			continue // rolled: the hand need not open to it at once
		}
		for i, low := range chord {
			for _, high := range chord[i+1:] {
				report(p, low, high)
			}
		}
	}
}

func report(p *lint.Pass, low, high int) {
	a, b := p.Finger[low], p.Finger[high]
	if a == 0 || b == 0 || a == b || p.Given[low] != a || p.Given[high] != b {
		return // what was worked out is no fault of the text: the rule on grips out of reach speaks of it
	}
	notes := p.Score.Notes
	if p.FitsHand(p.Hand[low], notes[low].Midi, notes[high].Midi, a, b) {
		return
	}
	f := lint.Finding{
		Notes:   []int{low, high},
		Message: fmt.Sprintf("%s with %d and %s with %d lie farther apart than the %s opens", notes[low].Pitch, a, notes[high].Pitch, b, p.HandName),
		Fix:     "roll it, or give a note to the other hand",
	}
	if !p.OneStem(low, high) {
		f.Severity = lint.Warning // the hand is worked out: the other one may take it
	}
	p.Report(f)
}
