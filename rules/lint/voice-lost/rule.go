// Package voicelost checks that a held voice is kept.
package voicelost

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a held note is let go before its time.
var Rule = &lint.Rule{
	Name:  "voice-lost",
	Title: "a held note is let go before its time",
	Checks: "Notes that no fingering of the hand can hold for what they are worth under what the same hand strikes " +
		"next, where no pedal mark keeps them.",
	Why: "A voice breaks off that the page holds. A pedal mark, the other hand or a word should say how it " +
		"is kept.",
	Before:   "left hand: C2 held as a whole note, C4 E4 G4 struck above it, no pedal",
	After:    "the same with a pedal mark, or the C2 given to a pedal",
	Severity: lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if p.Pedal == nil || !p.Pedal[n] || note.Arpeggio.Rolled || note.Grace > 0 || !p.Playing.Plays(n) ||
			!note.Struck() {
			continue
		}
		middle := p.Score.At(n).Add(note.Duration.Mul(score.Frac(1, 2)))
		if p.PedalDown(note.Part, p.Score.At(n)) || p.PedalDown(note.Part, middle) {
			continue
		}
		p.Report(lint.Finding{
			Notes: []int{n},
			Message: fmt.Sprintf(
				"%s cannot be held to its end by the hand that strikes it, and no pedal is marked", note.Pitch,
			),
			Fix: "mark the pedal, or give a note to the other hand",
		})
	}
}
