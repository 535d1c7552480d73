// Package accidentalneedless checks for accidentals that say nothing new.
package accidentalneedless

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: an accidental says what holds already.
var Rule = &lint.Rule{
	Name:  "accidental-needless",
	Title: "an accidental says what holds already",
	Checks: "Printed accidentals that repeat what the key signature and the accidentals before them in the measure say, and " +
		"are no courtesy: no note of that letter was otherwise in this measure or the one before, on either staff, and " +
		"no parentheses mark them as one. Told once a piece, with its measures.",
	Why:      "A needless sign makes the reader look for the reason; often it is left over from an earlier reading.",
	Before:   "G major: F#4 with a sharp, no F natural near by",
	After:    "F#4 without a sign",
	Severity: lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	p.Accidentals(func(n int, state lint.AccidentalState) {
		note := &p.Score.Notes[n]
		if _, _, known := state.Says(); !known || state.Courtesy || state.InForce != int(note.Pitch.Alter) || state.Otherwise ||
			note.Grace > 0 {
			return
		}
		p.Report(lint.Finding{
			Notes: []int{n}, Message: fmt.Sprintf("the %s at %s holds already", state.Printed, note.Pitch),
			Fix: "take it out, or put it in parentheses", Together: lint.OnceAPiece,
		})
	})
}
