// Package shortfingeronblack checks short fingers on black keys.
package shortfingeronblack

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: thumb or fifth on a black key among white ones.
var Rule = &lint.Rule{
	Name:   "short-finger-on-black",
	Title:  "thumb or fifth on a black key among white ones",
	Checks: "A digit 1 or 5 on a black key between two single notes on white keys within a fourth on either side.",
	Why: "The hand must move into the keys and out again for one note. It may be meant, for the sound or for the " +
		"grip that follows; if not, a long finger lies better there.",
	Before:   "right hand: E4 with 2, F#4 with 1, G4 with 2",
	After:    "right hand: E4 with 1, F#4 with 2, G4 with 3",
	Severity: lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	for _, l := range p.Playing.Lines {
		for i := 1; i+1 < len(l.Strokes); i++ {
			a, b, c := l.Strokes[i-1].Notes, l.Strokes[i].Notes, l.Strokes[i+1].Notes
			if len(a)+len(b)+len(c) != 3 || !p.Black(b[0]) || p.Black(a[0]) || p.Black(c[0]) {
				continue
			}
			f := p.Digit(b[0])
			if f != 1 && f != 5 || p.ChangesFinger(b[0]) || p.Semitones(a[0], b[0]) > 5 || p.Semitones(b[0], c[0]) > 5 ||
				f == 5 && turnsOutside(p, a[0], b[0], c[0]) {
				continue
			}
			if p.Digit(a[0]) == f || p.Digit(c[0]) == f || inPosition(p, a[0], b[0]) && inPosition(p, b[0], c[0]) {
				continue // it slides, or the hand lies over all three
			}
			p.Report(lint.Finding{
				Notes: []int{b[0], a[0], c[0]},
				Message: fmt.Sprintf(
					"%d stands on the black key %s between the white keys %s and %s", f, p.Score.Notes[b[0]].Pitch,
					p.Score.Notes[a[0]].Pitch, p.Score.Notes[c[0]].Pitch,
				),
				Fix: "use a long finger, unless this is meant",
			})
		}
	}
}

// turnsOutside says that the fifth finger takes the outermost key of a broken chord, a third or more from its neighbours.
func turnsOutside(p *lint.Inspection, a, b, c int) bool {
	return p.Outward(a, b) > 0 && p.Outward(c, b) > 0 && p.Semitones(a, b) > 2 && p.Semitones(b, c) > 2
}

// inPosition says that the digits of two notes, or the fingers worked out for them, lie in order, no farther apart than the hand lies at ease: nothing has to be
// moved for the second.
func inPosition(p *lint.Inspection, n, m int) bool {
	a, b := p.Digit(n), p.Digit(m)
	if a == 0 {
		a = p.Finger[n]
	}
	if b == 0 {
		b = p.Finger[m]
	}
	return a > 0 && b > 0 && a != b && !p.Crossed(n, m, a, b) && p.Semitones(n, m) <= 2*max(a-b, b-a)
}
