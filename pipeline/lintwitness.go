package pipeline

import (
	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// InspectionOf gathers what lint looks at of a piece that has gone its way.
func InspectionOf(w *PieceRun) *lint.Inspection { return inspectionOf(w) }

// LintWitness lays a witness beside the text by its music.
func LintWitness(siglum string, text, witness *score.Score, who score.Responsibility) lint.Witness {
	a := align.Align(text, witness, align.Options{})
	out := lint.Witness{
		Siglum: siglum, Score: witness, Note: a.ToB, Back: a.ToA, Responsibility: who,
		Covered: make([]bool, len(text.Notes)), BackCovered: make([]bool, len(witness.Notes)),
	}
	for n, m := range a.CoverB {
		out.Covered[n] = m >= 0 || !a.InA[n]
	}
	for m, n := range a.CoverA {
		out.BackCovered[m] = n >= 0 || !a.InB[m]
	}
	return out
}
