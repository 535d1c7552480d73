package engine

import (
	"cmp"
	"slices"

	"fingerproof/rules/fingering"
	"fingerproof/rules/lattice"
)

// mostChoices is how many other fingers are offered for a note.
const mostChoices = 2

// option is another finger for a strike: the best grip that has it, and what the cheapest path through that grip costs.
type option struct {
	finger fingering.Finger
	cost   int64
	grip   int
}

// choices writes to each struck note what its other fingers cost more, and for the two best the passage that follows.
func (r *report) choices(m *lattice.Marginals, why func(strike, from int, stretch []int) []Effort) {
	for e := range r.lattice.Events() {
		for i, k := range r.lattice.Line.Events[e].Keys {
			if !k.Struck {
				continue
			}
			options := r.options(e, i)
			if r.open.share != nil {
				r.priceByOdds(options, k.Strike)
			}
			slices.SortFunc(options, func(x, y option) int {
				return cmp.Or(cmp.Compare(x.cost, y.cost), cmp.Compare(x.finger, y.finger))
			})
			options = options[:min(mostChoices, len(options))]
			var choices []Choice
			if len(options) > 0 {
				choices = make([]Choice, len(options))
			}
			for c, o := range options {
				// The strikes whose finger differs from the delivered one on the cheapest path through the grip.
				from, stretch := m.Departure(e, o.grip, r.path)
				choices[c] = Choice{
					Finger: o.finger, Regret: max(milli(o.cost-r.open.optimum), 0),
					Passage: stepsOf(r.lattice, from, stretch, r.path), Why: why(k.Strike, from, stretch),
				}
			}
			for _, id := range r.lattice.Line.Strikes[k.Strike].IDs {
				n := r.note(id)
				n.Choices = choices
				if len(choices) > 0 {
					n.CostsMore = choices[0].Regret
				}
			}
		}
	}
}

// options lists the fingers that key i of event e might have instead, in the order of the grips.
func (r *report) options(e, i int) (out []option) {
	costs := r.open.margins(e)
	out = make([]option, 0, fingering.Fingers-1)
	for g, grip := range r.lattice.Grips(e) {
		f := grip.Fingers[i]
		if f == r.grip(e).Fingers[i] {
			continue
		}
		j := slices.IndexFunc(out, func(o option) bool { return o.finger == f })
		switch {
		case j < 0:
			out = append(out, option{f, costs[g], g})
		case costs[g] < out[j].cost:
			out[j] = option{f, costs[g], g}
		}
	}
	return out
}

// priceByOdds prices each option by how much less likely its finger is than the likeliest one.
func (r *report) priceByOdds(options []option, strike int) {
	odds := func(f fingering.Finger) int64 {
		return lattice.LogOf(r.open.share[strike*fingering.Fingers+int(f)-1])
	}
	most := int64(0)
	for f := fingering.Finger(1); f <= fingering.Fingers; f++ {
		most = max(most, odds(f))
	}
	for o := range options {
		options[o].cost = r.open.optimum + most - odds(options[o].finger)
	}
}
