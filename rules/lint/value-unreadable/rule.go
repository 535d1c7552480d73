// Package valueunreadable says what of a file could not be read.
package valueunreadable

import (
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule reports numbers and letters that cannot be read, as they stand in the file.
var Rule = &lint.Rule{
	Name:  "value-unreadable",
	Title: "a value in the file cannot be read",
	Checks: "The numbers that say how music goes: divisions, durations, octaves, alterations, transposition, key and " +
		"time signatures, tuplets, staves, endings and tempi. One that is missing, no number, or beyond all music is " +
		"quoted as it stands, with what is taken for it; what is said of several notes is told once, with their measures.",
	Why: "What cannot be read is left out or guessed, and all that is worked out from it may be wrong. The score " +
		"looks whole and is not.",
	Before:   "the octave “99999999999999999999”",
	After:    "the octave “4”",
	Severity: lint.Warning,
	Since:    "0.5",
	Run:      run,
}

func run(p *lint.Inspection) {
	for _, o := range p.Score.Oddities {
		if o.Kind != score.OddValue {
			continue
		}
		f := lint.Finding{
			Measure: o.Measure, Line: o.Line, Message: o.Detail, Together: o.Detail, Fix: "write what is meant, or export the score again",
		}
		if o.Note >= 0 {
			f.Notes = []int{o.Note}
			f.Together = strings.ReplaceAll(o.Detail, p.Score.Notes[o.Note].Pitch.String(), "") // of whichever note it is said
		}
		p.Report(f)
	}
}
