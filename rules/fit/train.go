package fit

import (
	"math"
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/hand"
)

// Train fits a table of weights to the examples. It starts from the terms of start. The outcome depends on the
// arguments alone; it runs on the goroutine it is called on.
func Train(examples []*Example, start *effort.Weights, profile hand.Profile, s Settings) *Outcome {
	if !s.Habit || s.Keep == 0 {
		return train(examples, start, profile, s, nil)
	}
	return train(examples, start, profile, s, train(examples, start, profile, s, nil).above(s.Keep))
}

// above lists the contexts that price some combination at least keep nats.
func (o *Outcome) above(keep float64) map[effort.Context]bool {
	only := map[effort.Context]bool{}
	for i, c := range o.space.order {
		for _, v := range o.habit[o.space.places[c]:][:effort.Sizes[o.space.kinds[i]]] {
			if math.Abs(v) >= keep {
				only[c] = true
				break
			}
		}
	}
	return only
}

// train is one round; only limits the contexts, nil for all. Contexts that start prices begin at its prices and are
// pulled to them.
func train(
	examples []*Example, start *effort.Weights, profile hand.Profile, s Settings, only map[effort.Context]bool,
) *Outcome {
	pricer := effort.NewPricerFor(start, profile, s.Aims)
	sp := &space{
		places: map[effort.Context]int32{}, counts: map[effort.Context]int32{}, min: int32(s.MinCount),
		skip: map[string]bool{}, only: only, known: start.Habit,
	}
	for _, k := range s.Skip {
		sp.skip[k] = true
	}
	if s.Habit {
		for _, x := range examples {
			count(x, pricer, sp, &s)
		}
	}
	var segments []segment
	for _, x := range examples {
		segments = append(segments, cut(x, pricer, sp, &s)...)
	}
	t := &trainer{
		s:     s,
		terms: newVector(int(effort.Terms), s.TermRate, 0),
		habit: newVector(int(sp.size), s.HabitRate, s.HabitDamp),
	}
	for i, w := range start.Terms {
		t.terms.w[i] = float64(w) / 1000
	}
	t.start = slices.Clone(t.terms.w)
	for _, c := range sp.order {
		for _, p := range start.Habit[c] {
			t.habit.w[sp.places[c]+p.Combo] = float64(p.Cost) / 1000
		}
	}
	t.startHabit = slices.Clone(t.habit.w)
	rng := s.Seed
	order := make([]int, len(segments))
	for i := range order {
		order[i] = i
	}
	tail := len(segments) * (s.Epochs - 1)
	for epoch := range s.Epochs {
		for i := len(order) - 1; i > 0; i-- {
			rng = rng*6364136223846793005 + 1442695040888963407
			j := int((rng >> 33) % uint64(i+1))
			order[i], order[j] = order[j], order[i]
		}
		for i, o := range order {
			t.averaging = epoch*len(order)+i >= tail
			t.step(&segments[o])
		}
	}
	return &Outcome{space: sp, Terms: t.terms.average(t.steps), habit: t.habit.average(t.steps)}
}

// count counts in how many windows' events each context occurs.
func count(x *Example, p *effort.Pricer, sp *space, s *Settings) {
	m := p.Model(x.Lattice.Line, x.Lattice)
	done := -1
	for _, w := range windows(x, s) {
		for e := max(w.first, done+1); e <= min(w.last+1, x.Lattice.Events()-1); e++ {
			done = e
			for _, f := range m.Factors(e) {
				for _, c := range f.Contexts {
					sp.counts[c]++
				}
			}
		}
	}
}

// vector is a weight vector under AdaGrad with an average over the tail of the training.
type vector struct {
	w, g2, late []float64
	rate        float64
}

// newVector makes a vector of zeros; damp is what the sum of squared gradients starts from: it keeps weights that are
// seldom met small.
func newVector(n int, rate, damp float64) *vector {
	v := &vector{w: make([]float64, n), g2: make([]float64, n), late: make([]float64, n), rate: rate}
	for i := range v.g2 {
		v.g2[i] = damp
	}
	return v
}

func (v *vector) move(i int, gradient float64, step float64) {
	v.g2[i] += gradient * gradient
	d := v.rate * gradient / (math.Sqrt(v.g2[i]) + 1e-8)
	v.w[i] -= d
	v.late[i] += step * d
}

// average gives the mean of the weights over the steps of the tail: each move counts for the steps after it.
func (v *vector) average(steps int) []float64 {
	out := slices.Clone(v.w)
	if steps > 0 {
		for i := range out {
			out[i] += v.late[i] / float64(steps)
		}
	}
	return out
}

type trainer struct {
	s            Settings
	terms, habit *vector
	start        []float64
	startHabit   []float64
	c            chain
	steps        int // steps of the tail so far
	averaging    bool
}

// push is a gradient on the prices of one context: where they begin, and where the gradient lies in the pool.
type push struct {
	block      int32
	from, size int
}

// gradient is what one window asks of the weights.
type gradient struct {
	terms  []float64
	pushes []push
	pool   []float64
}

// step moves the weights along the gradient of one window.
func (t *trainer) step(g *segment) {
	c := &t.c
	c.price(g, t.terms.w, t.habit.w)
	c.run(g)
	late := 0.0
	if t.averaging {
		late = float64(t.steps)
		t.steps++
	}
	d := gradient{terms: make([]float64, effort.Terms)}
	for e := range g.events {
		if !d.add(c, g, e) {
			return // the printed digits cannot be reached in this window
		}
	}
	t.move(&d, late)
}

// add adds what event e asks of the weights: what is expected under the printed digits less what is expected without
// them. It is false where no fingering agrees with the digits.
func (d *gradient) add(c *chain, g *segment, e int) bool {
	n, b := &g.events[e], &c.expected
	first, second := g.before(e)
	b.reset(first, second, n.grips)
	if !c.posterior(g, e, &c.bound, 1, b.triple) || !c.posterior(g, e, &c.free, -1, b.triple) {
		return false
	}
	i := 0
	for range b.first {
		for j := range b.pair {
			b.pair[j] += b.triple[i]
			i++
		}
	}
	for j, v := range b.pair {
		b.unary[j%len(b.grips)] += v
	}
	var table [125]float64
	for i := range n.factors {
		f := &n.factors[i]
		sum := table[:effort.Sizes[f.kind]]
		clear(sum)
		b.gather(f, sum)
		for _, x := range f.entries {
			d.terms[x.Term] += sum[x.Combo] * float64(x.Value) * 1e-3
		}
		if len(f.blocks) > 0 {
			from := len(d.pool)
			d.pool = append(d.pool, sum...)
			for _, at := range f.blocks {
				d.pushes = append(d.pushes, push{at, from, len(sum)})
			}
		}
	}
	return true
}

// move takes one step of AdaGrad along the gradient.
func (t *trainer) move(d *gradient, late float64) {
	for i, v := range d.terms {
		if t.s.Decay > 0 {
			v += t.s.Decay * (t.terms.w[i] - t.start[i])
		}
		if v != 0 {
			t.terms.move(i, v, late)
		}
	}
	for _, p := range d.pushes {
		for j, v := range d.pool[p.from:][:p.size] {
			if v > 1e-6 || v < -1e-6 {
				i := int(p.block) + j
				if t.s.HabitDecay > 0 {
					v += t.s.HabitDecay * (t.habit.w[i] - t.startHabit[i])
				}
				t.habit.move(i, v, late)
			}
		}
	}
}

// Outcome is what a training found, before rounding and pruning.
type Outcome struct {
	Terms []float64 // in nats
	habit []float64
	space *space
}

// Weights rounds to milli-nats; contexts that price less than prune nats are left out.
func (o *Outcome) Weights(name string, prune float64) *effort.Weights {
	w := &effort.Weights{Name: name}
	for i, v := range o.Terms {
		w.Terms[i] = int32(math.Round(v * 1000))
	}
	if len(o.habit) == 0 {
		return w
	}
	w.Habit = map[effort.Context][]effort.Price{}
	for i, c := range o.space.order {
		at := o.space.places[c]
		for j, v := range o.habit[at:][:effort.Sizes[o.space.kinds[i]]] {
			if milli := int32(math.Round(v * 1000)); milli != 0 && math.Abs(v) >= prune {
				w.Habit[c] = append(w.Habit[c], effort.Price{Combo: int32(j), Cost: milli})
			}
		}
	}
	return w
}
