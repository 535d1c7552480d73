package effort

import (
	"maps"
	"slices"
)

// Plus gives a table whose prices are those of w and of changes together. Neither is changed.
func (w *Weights) Plus(changes *Weights) *Weights {
	out := *w
	out.Habit = maps.Clone(w.Habit)
	for t, d := range changes.Terms {
		out.Terms[t] += d
	}
	if out.Habit == nil && len(changes.Habit) > 0 {
		out.Habit = map[Context][]Price{}
	}
	for c, prices := range changes.Habit {
		sum := slices.Clone(out.Habit[c])
		for _, p := range prices {
			if k := slices.IndexFunc(sum, func(q Price) bool { return q.Combo == p.Combo }); k >= 0 {
				sum[k].Cost += p.Cost
			} else {
				sum = append(sum, p)
			}
		}
		slices.SortFunc(sum, func(a, b Price) int { return int(a.Combo - b.Combo) })
		out.Habit[c] = slices.DeleteFunc(sum, func(p Price) bool { return p.Cost == 0 })
	}
	out.habits = indexHabit(out.Habit)
	return &out
}
