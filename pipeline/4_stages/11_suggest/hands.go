package suggest

import (
	"fingerproof/rules/engine"
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

func noneMore(in Input) [][]int64 {
	out := make([][]int64, len(in.OtherHands))
	for i := range out {
		out[i] = make([]int64, len(in.Score.Notes))
	}
	return out
}

// addMore adds for each other hand what a line's strokes cost it more: at the first written note of each.
func addMore(out [][]int64, strokes []engine.StrokeMore) {
	for _, s := range strokes {
		for i, more := range s.More {
			if id := writtenOf(s.IDs, len(out[i])); id >= 0 {
				out[i][id] += more
			}
		}
	}
}

// writtenOf is the first written note of a stroke, -1 where it is only of strokes that signs add.
func writtenOf(ids []int, notes int) int {
	for _, id := range ids {
		if id < notes {
			return id
		}
	}
	return -1
}
