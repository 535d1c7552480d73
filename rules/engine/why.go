package engine

import (
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/lattice"
)

// whyOf gives the function that says what a way costs more than the delivered one from which it departs in a stretch, by
// criterion, for strikes with a note that asked is true of; nil for others.
func whyOf(a *answer, model *effort.Model, asked func(id int) bool) func(strike, from int, stretch []int) []Effort {
	var other []int // the delivered way, but while a stretch is put into it
	return func(strike, from int, stretch []int) []Effort {
		if asked == nil || !slices.ContainsFunc(a.lattice.Line.Strikes[strike].IDs, asked) {
			return nil
		}
		if other == nil {
			other = slices.Clone(a.path)
		}
		copy(other[from:], stretch)
		to := min(from+len(stretch)+2, a.lattice.Events())
		costs := effortOf(a.lattice, model, other, from, to)
		copy(other[from:], a.path[from:][:len(stretch)])
		for c, v := range effortOf(a.lattice, model, a.path, from, to) {
			costs[c] -= v
		}
		return efforts(costs)
	}
}

// effortOf sums what events from to to (not included) cost on a path, by criterion.
func effortOf(l *lattice.Lattice, model *effort.Model, path []int, from, to int) []int64 {
	out := make([]int64, len(effort.Criteria))
	for e := from; e < to; e++ {
		account(l, model, path, e, func(_, criterion int, cost int64) { out[criterion] += cost })
	}
	return out
}
