package hands

import (
	"math"

	"fingerproof/corpus/score"
)

// Example is a piece whose hands are known (Keystroke.Hand).
type Example []Keystroke

const (
	window = 48   // moments that are searched before the weights move
	margin = 600  // thousandths by which each note told wrong is made cheaper while fitting
	rate   = 0.12 // first step of a weight, in units
)

// Fit fits a table of weights to examples: windows of moments at a time, each
// weight by steps that grow shorter the oftener it moves, the course wanted
// against the cheapest one; the mean over all steps is given.
func Fit(examples []Example, rounds int) *Table {
	f := fitter{}
	var moments [][]moment
	var known [][]uint32
	for _, e := range examples {
		m := momentsOf(e)
		describe(m)
		moments, known = append(moments, m), append(known, forget(m))
	}
	for range rounds {
		for i := range moments {
			f.learn(moments[i], known[i])
		}
	}
	out := &Table{}
	for i := range out.w {
		out.w[i] = int32(math.Round(1000 * f.sum[i] / float64(max(f.steps, 1))))
	}
	return out
}

// forget takes the hands off and gives them back as divisions; what is told wrong becomes cheaper by the margin.
func forget(moments []moment) (out []uint32) {
	for m := range moments {
		here := &moments[m]
		var left uint32
		for k, h := range here.known {
			here.bias[k] = -margin
			if h == score.Left {
				left |= 1 << k
				here.bias[k] = margin
			}
			here.known[k] = score.NoHand
		}
		out = append(out, left)
	}
	return out
}

type fitter struct {
	w, sum, moved [size]float64
	steps         int
}

func (f *fitter) learn(moments []moment, known []uint32) {
	start := &course{}
	for from := 0; from < len(moments); from += window {
		to := min(from+window, len(moments))
		var now weights
		for i := range now {
			now[i] = int32(math.Round(1000 * f.w[i]))
		}
		best := search(moments[from:to], &now, start)
		got := make([]uint32, to-from)
		for m := to - 1; m >= from; m-- {
			got[m-from] = best.left
			best = best.before
		}
		var wrong, right features
		start.follow(moments[from:to], got, &wrong)
		start = start.follow(moments[from:to], known[from:to], &right)
		start.cost = 0
		for i := range f.w {
			if d := float64(wrong[i] - right[i]); d != 0 {
				f.moved[i] += d * d
				f.w[i] += rate * d / math.Sqrt(f.moved[i])
			}
			f.sum[i] += f.w[i]
		}
		f.steps++
	}
}
