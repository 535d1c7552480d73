package engine

import (
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/lattice"
)

// explain writes to each struck note what its effort is made of, and sums it up over the line.
func (r *report) explain(model *effort.Model) {
	l := r.lattice
	n := len(effort.Criteria)
	perStrike, total := make([]int64, n*len(l.Line.Strikes)), make([]int64, n)
	for e := range l.Events() {
		account(l, model, r.path, e, func(strike, criterion int, cost int64) { perStrike[strike*n+criterion] += cost })
	}
	for s := range l.Line.Strikes {
		costs := perStrike[s*n:][:n]
		for c, v := range costs {
			total[c] += v
		}
		charged, says := efforts(costs), learnedOf(model, s)
		for k, id := range l.Line.Strikes[s].IDs {
			if k > 0 {
				charged = slices.Clone(charged)
			}
			n := r.note(id)
			n.Effort, n.Learned = charged, says
		}
	}
	r.out.Effort = efforts(total)
}

// learnedOf is what the network holds against each finger of a strike, in milli-nats.
func learnedOf(model *effort.Model, strike int) (out [fingering.Fingers]int) {
	for f, cost := range model.Network(strike) {
		out[f] = milli(int64(cost))
	}
	return out
}

var limit, change = slices.Index(effort.Criteria, "limit"), slices.Index(effort.Criteria, "change")

// charge is called with what a strike costs by one criterion.
type charge func(strike, criterion int, cost int64)

// account charges what event e costs on a path, by strike and criterion: all but what is the same on every path.
func account(l *lattice.Lattice, model *effort.Model, path []int, e int, charge charge) {
	var two, one fingering.Grip
	if e > 0 {
		one = l.Grips(e - 1)[path[e-1]]
	}
	if e > 1 {
		two = l.Grips(e - 2)[path[e-2]]
	}
	here := l.Grips(e)[path[e]]
	model.Account(e, two, one, here, func(strike, criterion int, cost int32) {
		charge(strike, criterion, int64(cost))
	})
	if hard := int64(l.Hard(e)[path[e]] - l.Freed(e)); hard != 0 {
		charge(firstStruck(&l.Line.Events[e]), limit, hard)
	}
	if e > 0 {
		l.Changed(e, one, here, func(strike int) { charge(strike, change, lattice.ChangeOnHeldKey) })
		if l.RolledInto(e) {
			charge(firstStruck(&l.Line.Events[e]), limit, int64(l.RollPrice(e, one, here)))
		}
	}
}

// firstStruck is the first strike of an event, from the thumb's side.
func firstStruck(e *fingering.Event) int {
	return e.Keys[slices.IndexFunc(e.Keys, func(k fingering.Sounding) bool { return k.Struck })].Strike
}

// efforts lists costs by criterion in milli-nats, those that vanish left out.
func efforts(costs []int64) (out []Effort) {
	some := 0
	for _, v := range costs {
		if int(v*1000/lattice.Nat) != 0 {
			some++
		}
	}
	if some > 0 {
		out = make([]Effort, 0, some)
	}
	for c, v := range costs {
		if m := int(v * 1000 / lattice.Nat); m != 0 {
			out = append(out, Effort{Criterion: effort.Criteria[c], Cost: m})
		}
	}
	return out
}
