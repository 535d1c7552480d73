package suggest

import (
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// LeastEfforts gives, for each of several hands, what each note of a piece takes when it is fingered for that hand with
// the least effort, in 1/4096 nat; of notes struck together the first has it for all. in.Profile is not looked at.
func LeastEfforts(in Input, hands []hand.Profile) [][]int64 {
	out := make([][]int64, len(hands))
	for i := range out {
		out[i] = make([]int64, len(in.Score.Notes))
	}
	parts := partsOf(in, &Suggestion{Notes: make([]NoteFingering, len(in.Score.Notes))})
	work := newWorkers(0)
	defer work.giveBack()
	for _, p := range parts {
		least := work.of(0).LeastEfforts(fingering.HandOf(p.hand), hands, in.Weights, p.line, AimsIn(in))
		for i := range least {
			for _, e := range least[i] {
				if id := writtenOf(e, len(in.Score.Notes)); id >= 0 {
					out[i][id] += e.Cost
				}
			}
		}
	}
	return out
}

// writtenOf is the first written note of a stroke, -1 where it is only of strokes that signs add.
func writtenOf(e engine.EventEffort, notes int) int {
	for _, id := range e.IDs {
		if id < notes {
			return id
		}
	}
	return -1
}
