// Package accidentalmissing checks that accidentals stand where notes need them.
package accidentalmissing

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a note needs an accidental and has none.
var Rule = &lint.Rule{
	Name:  "accidental-missing",
	Title: "a note needs an accidental and has none",
	Checks: "Notes of all parts whose pitch is not what the key signature and the accidentals before it in the " +
		"measure, on its line or space of the staff, make it, and at which no accidental is printed. Tied notes need none; " +
		"struck again in the measure to which the tie led, they do. " +
		"Files in which no accidental is written out are left alone: there the program that draws them sets them.",
	Why:      "The reader plays another key than the file sounds.",
	Before:   "C major: F#4, F natural 4 without a sign in the same measure",
	After:    "the F natural with its sign",
	Severity: lint.Warning,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	p.Accidentals(func(n int, state lint.AccidentalState) {
		note := &p.Score.Notes[n]
		if state.Printed != "" || state.InForce == int(note.Pitch.Alter) || note.TieStop || note.TiedFrom >= 0 {
			return
		}
		p.Report(lint.Finding{
			Notes: []int{n},
			Message: fmt.Sprintf("%s has no accidental, and without one it reads as %s", note.Pitch,
				score.Pitch{Step: note.Pitch.Step, Alter: int8(state.InForce), Octave: note.Pitch.Octave}),
			Fix: "print the accidental, or correct the pitch",
		})
	})
}
