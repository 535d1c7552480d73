package inspect

import (
	"slices"

	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/rules/lint"
)

// WitnessOf lays a witness beside the text by its music.
func WitnessOf(siglum string, text, witness *score.Score, who score.Responsibility) lint.Witness {
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

// inModernNumbering gives the score of a witness with its digits as we count
// them, so that lint compares like with like.
func inModernNumbering(x *witnesses.Witness) *score.Score {
	if !x.Old {
		return x.Score
	}
	out := *x.Score
	out.Notes = slices.Clone(x.Score.Notes)
	for i := range out.Notes {
		n := &out.Notes[i]
		n.Indications = slices.Clone(n.Indications)
		for k := range n.Indications {
			ind := &n.Indications[k]
			if fingers := witnesses.Modern(ind.Text); fingers != nil {
				ind.Fingers, ind.Old = fingers, false
				ind.Text = decision.Digits(fingers)
			}
		}
	}
	return &out
}
