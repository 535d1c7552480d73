package hands

import (
	"fmt"

	"fingerproof/corpus/score"
)

// Example is a piece whose hands are known (Note.Hand).
type Example []Note

// Fit fits the weights to examples by an averaged perceptron, windows of
// moments at a time, and gives a function that infers with them.
func Fit(examples []Example, rounds int) func([]Note) []score.Hand {
	w := fit(examples, rounds)
	return func(n []Note) []score.Hand { return infer(n, w) }
}

const window = 48

func fit(examples []Example, rounds int) *weights {
	now := shipped
	var sum [size]int64
	steps := int64(0)
	for range rounds {
		for _, e := range examples {
			moments := momentsOf(e)
			var known []uint32
			for m := range moments {
				var left uint32
				for k, h := range moments[m].known {
					if h == score.Left {
						left |= 1 << k
					}
					moments[m].known[k] = score.NoHand
				}
				known = append(known, left)
			}
			start := course{}
			for from := 0; from < len(moments); from += window {
				to := min(from+window, len(moments))
				now[size] = 1
				start.sum, start.cost, start.before = features{}, 0, nil
				best := search(e, moments[from:to], &now, start, nil)
				truth := search(e, moments[from:to], &now, start, known[from:to])
				start = *truth
				// The step is bounded: a window that goes wrong altogether counts as one.
				if d := best.sum; d != truth.sum {
					most := int32(1)
					for i := range d {
						most = max(most, abs32(d[i]-truth.sum[i]))
					}
					for i := range d {
						now[i] += (d[i] - truth.sum[i]) * 20 / max(most, 20)
					}
				}
				for i := range sum {
					sum[i] += int64(now[i])
				}
				steps++
			}
		}
	}
	var out weights
	for i := range sum {
		out[i] = int32(sum[i] / max(steps, 1))
	}
	return &out
}

func abs32(x int32) int32 { return max(x, -x) }

// FitTable fits the weights and spells them as weights.go wants them.
func FitTable(examples []Example, rounds int) string {
	w := fit(examples, rounds)
	out := ""
	for i := range size {
		out += fmt.Sprintf("%s: %d, ", names[i], w[i])
	}
	return out
}

var names = [size]string{"leapFast", "leapSlow", "leapRest", "farLeap", "drift", "stretch", "wide", "beyond", "fingers", "register", "broken", "otherLength", "otherStep", "cutOff", "joined", "late", "alone", "idle", "gap", "innerGap", "crossed", "crossedAt", "over", "idleStroke"}
