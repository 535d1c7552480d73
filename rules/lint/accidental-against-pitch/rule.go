// Package accidentalagainstpitch checks printed accidentals against the pitches they stand at.
package accidentalagainstpitch

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a printed accidental says another pitch than the note has.
var Rule = &lint.Rule{
	Name:     "accidental-against-pitch",
	Title:    "an accidental says another pitch than the note has",
	Checks:   "Each accidental that is printed at a note, in all parts, against the alteration of its pitch.",
	Why:      "What is read is not what the file sounds: one of the two is wrong.",
	Before:   "a natural at a note that sounds E flat",
	After:    "the flat, or E natural",
	Severity: lint.Warning,
	Since:    "0.6",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	p.Accidentals(func(n int, state lint.AccidentalState) {
		note := &p.Score.Notes[n]
		word, says, known := state.Says()
		if !known || says == int(note.Pitch.Alter) {
			return
		}
		p.Report(lint.Finding{
			Notes: []int{n},
			Message: fmt.Sprintf("%s is printed with a %s, which reads as %s", note.Pitch, word,
				score.Pitch{Step: note.Pitch.Step, Alter: int8(says), Octave: note.Pitch.Octave}),
			Fix: "correct the accidental or the pitch",
		})
	})
}
