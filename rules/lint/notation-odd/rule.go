// Package notationodd passes on where the notation contradicts itself.
package notationodd

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule reports ties to nowhere, impossible pitches and their like.
var Rule = &lint.Rule{
	Name:  "notation-odd",
	Title: "the notation contradicts itself",
	Checks: "Ties without a note to go on to, pitches off the keyboard, octave signs without an end, ids used " +
		"twice. Ties over the barline of a measure that does not add up are left alone: " +
		"the measure is reported.",
	Why:      "The fingering of a passage stands on such signs: a lost tie asks for a stroke that nobody hears.",
	Before:   "C4 with a tie that starts, no C4 after it",
	After:    "the tie taken out, or its second note put in",
	Severity: lint.Note,
	Since:    "0.1",
	Run:      run,
}

func run(p *lint.Inspection) {
	var own []score.Oddity
	wrong := lengthless(p.Score)
	for _, o := range p.Score.Oddities {
		if o.Kind != score.OddTie || !overBarline(p.Score, wrong, o.Note) {
			own = append(own, o)
		}
	}
	p.ReportOddities(own, score.OddTie, score.OddPitch, score.OddOctaveShift, score.OddDuplicateID)
}

// lengthless says of each measure whether it does not add up.
func lengthless(s *score.Score) []bool {
	out := make([]bool, len(s.Measures))
	for _, o := range s.Oddities {
		if o.Kind == score.OddMeasureLength {
			out[o.Measure] = true
		}
	}
	return out
}

// overBarline says that a tie leads to or from the barline of a measure that
// does not add up: then the tie is not at fault, and another rule speaks.
func overBarline(s *score.Score, wrong []bool, n int) bool {
	if n < 0 {
		return false
	}
	note := &s.Notes[n]
	m := &s.Measures[note.Measure]
	end := note.Onset.Add(note.Duration)
	if note.TieStart && wrong[note.Measure] && (end == m.Nominal || end == m.Length) {
		return true
	}
	return note.TieStop && note.Onset.Sign() == 0 && note.Measure > 0 && wrong[note.Measure-1]
}
