// Package measure passes on what is odd about the measures and the notation.
package measure

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule reports measures whose music does not add up to the metre.
var Rule = &lint.Rule{
	Name:     "measure-does-not-add-up",
	Title:    "a measure does not add up",
	Checks:   "What the notes and rests of a measure last against its time signature, and shifts of position that lead out of the measure. Pickups, measures split at a repeat and unmeasured passages are accepted.",
	Why:      "Where a measure lacks a beat, everything that is worked out from time (what sounds together, held keys, tempo) may be wrong in it, and the text itself may have a slip.",
	Before:   "3/4: a half note and an eighth",
	After:    "3/4: a half note and a quarter",
	Severity: lint.Note,
	Since:    "0.1",
	Run: func(p *lint.Pass) {
		pass(p, score.OddMeasureLength, score.OddBackup, score.OddDuration, score.OddDivisions, score.OddMissingMeasure)
	},
}

// Notation reports ties to nowhere, impossible pitches and their like.
var Notation = &lint.Rule{
	Name:     "notation-odd",
	Title:    "the notation contradicts itself",
	Checks:   "Ties without a note to go on to, pitches off the keyboard, octave signs without an end, staves that the part lacks, ids used twice.",
	Why:      "The fingering of a passage stands on such signs: a lost tie asks for a stroke that nobody hears.",
	Before:   "C4 with a tie that starts, no C4 after it",
	After:    "the tie taken out, or its second note put in",
	Severity: lint.Note,
	Since:    "0.1",
	Run: func(p *lint.Pass) {
		pass(p, score.OddTie, score.OddPitch, score.OddStaff, score.OddOctaveShift, score.OddDuplicateID)
	},
}

func pass(p *lint.Pass, kinds ...score.OddityKind) {
	for _, o := range p.Score.Oddities {
		for _, k := range kinds {
			if o.Kind != k {
				continue
			}
			f := lint.Finding{Measure: o.Measure, Line: o.Line, Message: o.Detail}
			if o.Note >= 0 {
				f.Notes = []int{o.Note}
			}
			p.Report(f)
		}
	}
}
