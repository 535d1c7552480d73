// Package order checks the order of fingers in a chord.
package order

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: the fingers of a chord cross.
var Rule = &lint.Rule{
	Name:     "fingers-out-of-order",
	Title:    "the fingers of a chord cross",
	Checks:   "Digits that stand on keys of one hand struck together: from the thumb outward the keys must lie in the order of the fingers. Keys no more than a whole tone apart are left alone (there a finger may lie over its neighbour), and so are rolled chords. Where the notes stand on two staves or in voices of both, the hand is a guess and the finding milder.",
	Why:      "A higher key under a lower finger is nearly always a digit on the wrong note of the chord, or two that were swapped.",
	Before:   "right hand: C4 with 5, E4 with 3, G4 with 1",
	After:    "right hand: C4 with 1, E4 with 3, G4 with 5",
	Severity: lint.Error,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Pass) {
	for n := range p.Score.Notes {
		chord := p.Sounding[n]
		if len(chord) < 2 || chord[0] != n || p.Score.Notes[n].Arpeggio.Rolled {
			continue
		}
		before := -1
		for _, m := range chord {
			if p.Digit(m) == 0 {
				continue
			}
			if before >= 0 && p.Crossed(before, m, p.Digit(before), p.Digit(m)) && p.Semitones(before, m) > 2 {
				report(p, chord, before, m)
				break // one finding a chord: what follows is the same slip
			}
			before = m
		}
	}
}

func report(p *lint.Pass, chord []int, low, high int) {
	a, b := &p.Score.Notes[low], &p.Score.Notes[high]
	f := lint.Finding{
		Notes:   []int{low, high},
		Message: fmt.Sprintf("%s with %d lies on the wrong side of %s with %d", b.Pitch, p.Digit(high), a.Pitch, p.Digit(low)),
		Fix:     "look which digit belongs to which note of the chord",
	}
	for _, n := range chord {
		note := &p.Score.Notes[n]
		if note.Staff != a.Staff || note.HomeStaff != note.Staff || note.Grace > 0 || changed(p, n) {
			f.Severity = lint.Warning
		}
	}
	p.Report(f)
}

// changed says that more than one finger stands at the note: then the digits
// are a row that may belong to the whole chord.
func changed(p *lint.Pass, n int) bool { return p.Changes(n) }
