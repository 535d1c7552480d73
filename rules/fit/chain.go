package fit

import (
	"math"

	"fingerproof/rules/effort"
)

// chain holds the tables of one window while it is trained on.
type chain struct {
	weight      [][]float64 // event → exp(−price) of each triple of grips, scaled
	free, bound passes      // over all fingerings, and over those that agree with the printed digits
	block       block       // prices of one event
	expected    block       // what is expected of one event under the digits, less what is without them
}

// passes are the results of a forward and a backward pass, event by event, per pair of grips; each event is scaled to
// 1.
type passes struct {
	bound      bool // to the printed digits
	fore, back [][]float64
}

// price fills weight for every event of the window under the weights of terms and contexts.
func (c *chain) price(g *segment, terms, habit []float64) {
	c.weight = atLeast(c.weight, len(g.events))
	var table [125]float64
	for e := range g.events {
		n, b := &g.events[e], &c.block
		first, second := g.before(e)
		b.triple = c.weight[e]
		b.reset(first, second, n.grips)
		copy(b.unary, n.hard)
		copy(b.pair, n.changes)
		for i := range n.factors {
			f := &n.factors[i]
			price := table[:effort.Sizes[f.kind]]
			clear(price)
			f.prices(terms, habit, price)
			b.spread(f, price)
		}
		c.weight[e], b.triple = b.weights(), nil
	}
}

// prices adds up what each combination of the factor costs, in nats.
func (f *factor) prices(terms, habit, out []float64) {
	for _, x := range f.entries {
		out[x.Combo] += terms[x.Term] * float64(x.Value) * 1e-3
	}
	for _, at := range f.blocks {
		for j, w := range habit[at:][:len(out)] {
			out[j] += w
		}
	}
}

// weights turns the prices of triples, those of their pairs and grips included, into exp(−price), the least price
// into 1.
func (b *block) weights() []float64 {
	i, low := 0, math.Inf(1)
	for range b.first {
		for j := range b.second {
			for k := range b.grips {
				b.triple[i] += b.pair[j*len(b.grips)+k] + b.unary[k]
				low = min(low, b.triple[i])
				i++
			}
		}
	}
	for i := range b.triple {
		b.triple[i] = math.Exp(low - b.triple[i])
	}
	return b.triple
}

// run does both passes over a window.
func (c *chain) run(g *segment) {
	c.free.bound, c.bound.bound = false, true
	for _, p := range []*passes{&c.free, &c.bound} {
		p.fore, p.back = atLeast(p.fore, len(g.events)), atLeast(p.back, len(g.events))
		p.forward(g, c.weight)
		p.backward(g, c.weight)
	}
}

func (p *passes) forward(g *segment, weight [][]float64) {
	for e := range g.events {
		na, nb, nc := g.count(e-2), g.count(e-1), g.count(e)
		p.fore[e] = grow(p.fore[e], nb*nc)
		fore := p.fore[e]
		for a := range na {
			for b := range nb {
				w := 1.0
				if e > 0 {
					w = p.fore[e-1][a*nb+b]
				}
				if w == 0 {
					continue
				}
				row, out := weight[e][(a*nb+b)*nc:][:nc], fore[b*nc:][:nc]
				for k := range row {
					out[k] += w * row[k]
				}
			}
		}
		for i := range fore {
			if p.excludes(&g.events[e], i%nc) {
				fore[i] = 0
			}
		}
		scale(fore)
	}
}

func (p *passes) backward(g *segment, weight [][]float64) {
	n := len(g.events)
	for e := n - 1; e >= 0; e-- {
		nb, nc := g.count(e-1), g.count(e)
		p.back[e] = grow(p.back[e], nb*nc)
		back := p.back[e]
		if e == n-1 {
			for i := range back {
				back[i] = 1
			}
			continue
		}
		nd := g.count(e + 1)
		for b := range nb {
			for k := range nc {
				row, after := weight[e+1][(b*nc+k)*nd:][:nd], p.back[e+1][k*nd:][:nd]
				sum := 0.0
				for d := range row {
					if !p.excludes(&g.events[e+1], d) {
						sum += row[d] * after[d]
					}
				}
				back[b*nc+k] = sum
			}
		}
		scale(back)
	}
}

// excludes says that a grip of an event disagrees with the printed digits that bind the pass.
func (p *passes) excludes(n *node, grip int) bool {
	return p.bound && n.allowed != nil && !n.allowed[grip]
}

// scale makes the numbers add up to 1, where they do not all vanish.
func scale(s []float64) {
	total := 0.0
	for _, v := range s {
		total += v
	}
	if total > 0 {
		for i := range s {
			s[i] /= total
		}
	}
}

// posterior adds the probability of each triple of event e, times sign, to out. It is false where no fingering is left.
func (c *chain) posterior(g *segment, e int, p *passes, sign float64, out []float64) bool {
	nb, nc := g.count(e-1), g.count(e)
	value := func(i int) float64 {
		k, ab := i%nc, i/nc
		if p.excludes(&g.events[e], k) {
			return 0
		}
		w := 1.0
		if e > 0 {
			w = p.fore[e-1][ab]
		}
		return w * c.weight[e][i] * p.back[e][ab%nb*nc+k]
	}
	total := 0.0
	for i := range out {
		total += value(i)
	}
	if !(total > 0) || math.IsInf(total, 0) {
		return false
	}
	for i := range out {
		out[i] += sign * value(i) / total
	}
	return true
}

// atLeast gives the slice at least n entries.
func atLeast(s [][]float64, n int) [][]float64 {
	if len(s) < n {
		s = append(s, make([][]float64, n-len(s))...)
	}
	return s
}
