// Package signagainststaff checks hand signs against what the hands do.
package signagainststaff

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: a hand sign asks for what the hand cannot do.
var Rule = &lint.Rule{
	Name:     "sign-against-staff",
	Title:    "a hand sign asks for what the hand cannot do",
	Checks:   "Hand signs that give notes of a staff to a hand which at the same moment strikes keys on the other staff: the two lie farther apart than the hand of the policy spans. Rolled chords are left alone: there the hand may cross over after the lower key.",
	Why:      "The sign names the wrong hand, or stands at the wrong place.",
	Before:   "upper staff: m.s. at C6, while the left hand strikes C2 on the lower staff",
	After:    "the sign taken out, or m.d.",
	Severity: lint.Warning,
	Since:    "0.2",
	Options:  []string{"hand", "span_mm"},
	Run:      run,
}

func run(p *lint.Inspection) {
	signs := lint.SignsByPlace(p)
	told := map[int]bool{}
	p.Blocks(func(chord []int) {
		low, high := chord[0], chord[len(chord)-1]
		if p.Score.Notes[low].Staff == p.Score.Notes[high].Staff || p.Profile.Fits(p.Score.Notes[low].Midi, p.Score.Notes[high].Midi) {
			return
		}
		for _, m := range []int{high, low} {
			note := &p.Score.Notes[m]
			d := lint.ObeyedAt(p, signs, m)
			if d < 0 || told[d] {
				continue
			}
			told[d] = true
			sign := &p.Score.Directions[d]
			p.Report(lint.Finding{
				Notes: []int{m, low + high - m}, Line: sign.Line, Column: sign.Column,
				Message: fmt.Sprintf("%q gives %s to a hand that strikes %s at the same moment", sign.Text, note.Pitch, p.Score.Notes[low+high-m].Pitch),
				Fix:     "look which hand is meant",
			})
			break
		}
	})
}
