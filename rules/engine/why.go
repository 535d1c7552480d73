package engine

import (
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/lattice"
)

// whyOf gives the function that says what the path through a grip of event e costs more than the delivered way, by
// criterion, for strikes with a note that asked is true of; nil for others.
func whyOf(
	a *answer, model *effort.Model, m *lattice.Marginals, asked func(id int) bool,
) func(strike, e, grip int) []Effort {
	return func(strike, e, grip int) []Effort {
		if asked == nil || !slices.ContainsFunc(a.lattice.Line.Strikes[strike].IDs, asked) {
			return nil
		}
		from, stretch := m.Departure(e, grip, a.path)
		other := slices.Clone(a.path)
		copy(other[from:], stretch)
		to := min(from+len(stretch)+2, a.lattice.Events())
		costs := effortOf(a.lattice, model, other, from, to)
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
