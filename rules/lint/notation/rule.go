// Package notation passes on where the notation contradicts itself.
package notation

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/measure"
)

// Rule reports ties to nowhere, impossible pitches and their like.
var Rule = &lint.Rule{
	Name:     "notation-odd",
	Title:    "the notation contradicts itself",
	Checks:   "Ties without a note to go on to, pitches off the keyboard, octave signs without an end, staves that the part lacks, ids used twice.",
	Why:      "The fingering of a passage stands on such signs: a lost tie asks for a stroke that nobody hears.",
	Before:   "C4 with a tie that starts, no C4 after it",
	After:    "the tie taken out, or its second note put in",
	Severity: lint.Note,
	Since:    "0.1",
	Run: func(p *lint.Pass) {
		measure.Tell(p, score.OddTie, score.OddPitch, score.OddStaff, score.OddOctaveShift, score.OddDuplicateID)
	},
}
