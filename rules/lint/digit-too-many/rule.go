// Package digittoomany checks that no digit is wasted.
package digittoomany

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a digit that the style does not need.
var Rule = &lint.Rule{
	Name:  "digit-too-many",
	Title: "a digit that the style does not need",
	Checks: "In styles with few digits: two single notes by step, both with digits that stand in the text, the " +
		"second with the neighbouring finger and neither the composer's nor an earlier editor's, which print as they stand, nor, in an " +
		"edition that says how many digits it prints, one that its style prints.",
	Why:      "Few digits are read; many are overlooked. Where the hand lies still one digit is enough.",
	Before:   "right hand: C4 with 1, D4 with 2, E4 with 3, style performance",
	After:    "C4 with 1, D4 and E4 without",
	Severity: lint.Note,
	Since:    "0.2",
	Options:  []string{"digits"},
	Run:      run,
}

func run(p *lint.Inspection) {
	if !p.FewDigits {
		return
	}
	for _, l := range p.Playing.Lines {
		for i := 1; i < len(l.Strokes); i++ {
			a, b := l.Strokes[i-1].Notes, l.Strokes[i].Notes
			if len(a) != 1 || len(b) != 1 || !follows(p, a[0], b[0]) {
				continue
			}
			ind := p.StandingDigit(b[0])
			p.Report(lint.Finding{
				Notes: []int{b[0], a[0]}, Line: ind.Line, Column: ind.Column,
				Message: fmt.Sprintf(
					"%d on %s follows from the %d before it", p.Digit(b[0]), p.Score.Notes[b[0]].Pitch, p.Digit(a[0]),
				),
				Fix: "leave the digit out",
			})
		}
	}
}

// follows says that the digit of b is the one every reader would take after a:
// a step, the neighbouring finger, both digits standing, neither the composer's.
func follows(p *lint.Inspection, a, b int) bool {
	f, g := p.Digit(a), p.Digit(b)
	if f == 0 || g == 0 || p.Wanted != nil && p.Wanted[b] || p.ChangesFinger(a) || p.ChangesFinger(b) || p.Semitones(a, b) > 2 || p.Outward(a, b) == 0 {
		return false
	}
	step := 1
	if p.Outward(a, b) < 0 {
		step = -1
	}
	return g-f == step && !p.OfComposer(b) && !slices.Contains(p.Whose[b], score.Earlier)
}
