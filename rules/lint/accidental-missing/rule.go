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
		"Files in which no accidental is written out are left alone: there the program that draws them sets them. A file that writes fewer than it " +
		"leaves out is such a file, too, and that a few stand in it is told once, as a note.",
	Why:      "The reader plays another key than the file sounds.",
	Before:   "C major: F#4, F natural 4 without a sign in the same measure",
	After:    "the F natural with its sign",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	if !p.WritesAccidentals() {
		few(p)
		return
	}
	p.Accidentals(func(n int, state lint.AccidentalState) {
		note := &p.Score.Notes[n]
		if !state.Missing(note) {
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

// few tells once of a file that leaves accidentals to the program that draws it and has some all the same: they came by hand, and
// a program that takes them for all that are meant draws the others' notes as other keys.
func few(p *lint.Inspection) {
	w := p.AccidentalsWritten()
	if len(w.Standing) == 0 {
		return
	}
	p.Report(lint.Finding{
		Severity: lint.Note, Notes: w.Standing[:1],
		Message: fmt.Sprintf("accidentals of this file: %d printed, %d that notes need left out, for the program that draws it to set",
			len(w.Standing), len(w.Missing)),
		Fix: "write all of them, or none",
	})
}
