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
	Checks: "Printed accidentals of all parts that repeat what the key signature and the accidentals before them in the measure say, and " +
		"are no courtesy: no note of that letter was otherwise in this measure or the one before, on any staff, or none since the " +
		"voice had the same sign in the measure; at a note that is tied over, unless a system begins with it. What stands in parentheses is left alone. " +
		"Told once a piece, with its measures.",
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
		_, says, known := state.Says()
		if !known || state.Courtesy || says != int(note.Pitch.Alter) || note.Grace > 0 {
			return
		}
		message := ""
		switch {
		case note.TiedFrom >= 0:
			if !newLine(p, n) {
				message = fmt.Sprintf("%s is tied over, and its %s holds already", note.Pitch, state.Printed)
			}
		case state.InForce != int(note.Pitch.Alter):
		case !state.Otherwise:
			message = fmt.Sprintf("the %s at %s holds already", state.Printed, note.Pitch)
		case state.Said >= 0:
			message = fmt.Sprintf("the %s at %s holds already: it stands before it in the measure", state.Printed, note.Pitch)
		}
		if message != "" {
			p.Report(lint.Finding{Notes: []int{n}, Message: message, Fix: "take it out, or put it in parentheses", Together: lint.OnceAPiece})
		}
	})
}

// newLine says that a system begins with the measure of a note: there a sign is often set again under a tie.
func newLine(p *lint.Inspection, n int) bool {
	ms, m := p.Score.Measures, p.Score.Notes[n].Measure
	return m > 0 && (ms[m].System != ms[m-1].System || ms[m].Page != ms[m-1].Page) && p.Score.Notes[p.Score.Notes[n].TiedFrom].Measure < m
}
