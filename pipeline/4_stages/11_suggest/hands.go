package suggest

import (
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// OtherHands are the named hands that a piece is not fingered for.
func OtherHands(own hand.Profile) (out []hand.Profile) {
	for _, profile := range []hand.Profile{hand.OctaveHand, hand.NinthHand, hand.TenthHand} {
		if profile != own {
			out = append(out, profile)
		}
	}
	return out
}

// MoreForHands gives what Suggestion.MoreForHands is, for a suggestion that was made without it.
func MoreForHands(in Input) [][]int64 {
	out := noneMore(in)
	parts := partsOf(in, &Suggestion{Notes: make([]NoteFingering, len(in.Score.Notes))})
	work := newWorkers(in, len(parts))
	defer work.giveBack()
	for i, p := range parts {
		addMore(out, in, work.of(i), p)
	}
	return out
}

func noneMore(in Input) [][]int64 {
	out := make([][]int64, len(in.OtherHands))
	for i := range out {
		out[i] = make([]int64, len(in.Score.Notes))
	}
	return out
}

// addMore adds for each other hand what a line's strokes cost it more: at the first note of each.
func addMore(out [][]int64, in Input, worker *engine.Worker, p part) {
	least := worker.LeastEfforts(fingering.HandOf(p.hand), in.Profile, in.Weights, p.line, AimsIn(in))
	for i, efforts := range least {
		for _, e := range efforts {
			id := writtenOf(e, len(in.Score.Notes))
			switch {
			case id < 0:
			case i > 0:
				out[i-1][id] += e.Cost
			default:
				for other := range out {
					out[other][id] -= e.Cost
				}
			}
		}
	}
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
