package engine

import (
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/lattice"
)

// explain adds to each struck note what its effort is made of, and sums it up over the line.
func explain(out *Result, notes []fingering.Note, a *answer, model *effort.Model) {
	at := index(notes)
	l := a.lattice
	perStrike := make([][]int64, len(l.Line.Strikes))
	for s := range perStrike {
		perStrike[s] = make([]int64, len(effort.Criteria))
	}
	total := make([]int64, len(effort.Criteria))
	for e := range l.Events() {
		var two, one fingering.Grip
		if e > 0 {
			one = a.grip(e - 1)
		}
		if e > 1 {
			two = a.grip(e - 2)
		}
		model.Explain(e, two, one, a.grip(e), func(strike int, criterion string, cost int32) {
			perStrike[strike][slices.Index(effort.Criteria, criterion)] += int64(cost)
		})
		limit := slices.Index(effort.Criteria, "limit")
		for _, k := range l.Line.Events[e].Keys {
			if k.Struck {
				perStrike[k.Strike][limit] += int64(l.Hard(e)[a.path[e]])
				break
			}
		}
	}
	for s, costs := range perStrike {
		for c, v := range costs {
			total[c] += v
		}
		for _, id := range l.Line.Strikes[s].IDs {
			out.Notes[at[id]].Effort = efforts(costs)
		}
	}
	out.Effort = efforts(total)
}

func efforts(costs []int64) (out []Effort) {
	for c, v := range costs {
		if m := int(v * 1000 / lattice.Nat); m != 0 {
			out = append(out, Effort{Criterion: effort.Criteria[c], Cost: m})
		}
	}
	return out
}
