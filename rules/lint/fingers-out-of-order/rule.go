// Package fingersoutoforder checks the order of fingers in a chord.
package fingersoutoforder

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: the fingers of a chord cross.
var Rule = &lint.Rule{
	Name:  "fingers-out-of-order",
	Title: "the fingers of a chord cross",
	Checks: "Digits that stand on keys of one hand struck together: from the thumb outward the keys must lie in " +
		"the order of the fingers. Keys no more than a whole tone apart are left alone (there a finger may lie " +
		"over its neighbour), and so are rolled chords. Where the notes stand on several stems, or the whole lies " +
		"in order for the other hand and that hand is near, the hand is a guess and the finding milder.",
	Why: "A higher key under a lower finger is nearly always a digit on the wrong note of the chord, or two that " +
		"were swapped.",
	Before:   "right hand: C4 with 5, E4 with 3, G4 with 1",
	After:    "right hand: C4 with 1, E4 with 3, G4 with 5",
	Severity: lint.Error,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	p.BlockChords(func(chord []int) {
		before, first, inOrder := -1, [2]int{-1, -1}, false
		for _, m := range chord {
			if p.AskedFinger(m) == 0 {
				continue
			}
			if before >= 0 {
				switch crossed := p.Crossed(before, m, p.AskedFinger(before), p.AskedFinger(m)); {
				case !crossed:
					inOrder = inOrder || p.AskedFinger(before) != p.AskedFinger(m)
				case p.Semitones(before, m) > 2 && first[0] < 0:
					first = [2]int{before, m}
				}
			}
			before = m
		}
		if first[0] >= 0 { // one finding a chord: what follows is the same slip
			report(p, chord, first[0], first[1], inOrder)
		}
	})
}

// report is an error where the hand is sure: all on one stem, and the digits
// in order for neither hand or the other hand too far away. Elsewhere the
// digits may be the other hand's.
func report(p *lint.Inspection, chord []int, low, high int, inOrder bool) {
	a, b := &p.Score.Notes[low], &p.Score.Notes[high]
	f := lint.Finding{
		Notes: []int{low, high},
		Message: fmt.Sprintf(
			"%s with %d lies on the wrong side of %s with %d", b.Pitch, p.AskedFinger(high), a.Pitch,
			p.AskedFinger(low),
		),
		Fix: "check which digit belongs to which note of the chord",
	}
	sure := inOrder || p.OtherIsBusy(chord)
	for _, n := range chord {
		sure = sure && p.OneStem(n, low) && p.Score.Notes[n].Grace == 0 && !p.ChangesFinger(n)
	}
	if !sure {
		f.Severity = lint.Warning
		f.Fix += ", or whether the other hand takes it"
	}
	p.Report(f)
}
