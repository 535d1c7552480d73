package fit

import (
	"math"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
)

// chain holds the tables of one window while it is trained on.
type chain struct {
	pot         [][]float64 // event → exp(−price) of (a,b,c), scaled
	fore, back  [][]float64
	fore2, bac2 [][]float64
	unary       []float64
	pair        []float64
}

func grow(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	s = s[:n]
	clear(s)
	return s
}

func at2(f, g fingering.Finger) int { return int(f-1)*5 + int(g-1) }

// price fills pot for every event of the window under the weights.
func (c *chain) price(g *segment, terms, habit []float64) {
	if len(c.pot) < len(g.events) {
		c.pot = append(c.pot, make([][]float64, len(g.events)-len(c.pot))...)
	}
	var table [125]float64
	for e := range g.events {
		n := &g.events[e]
		ga, gb := g.before(e)
		gc := n.grips
		c.unary = grow(c.unary, len(gc))
		copy(c.unary, n.hard)
		c.pair = grow(c.pair, len(gb)*len(gc))
		copy(c.pair, n.changes)
		c.pot[e] = grow(c.pot[e], len(ga)*len(gb)*len(gc))
		pot := c.pot[e]
		for i := range n.factors {
			f := &n.factors[i]
			t := table[:effort.Sizes[f.kind]]
			clear(t)
			for _, x := range f.entries {
				t[x.Combo] += terms[x.Term] * float64(x.Value) * 1e-3
			}
			for _, b := range f.blocks {
				for j, w := range habit[b:][:len(t)] {
					t[j] += w
				}
			}
			switch f.kind {
			case effort.NoteFactor:
				for k := range gc {
					c.unary[k] += t[gc[k].Fingers[f.at[0]]-1]
				}
			case effort.ChordFactor:
				for k := range gc {
					c.unary[k] += t[at2(gc[k].Fingers[f.at[0]], gc[k].Fingers[f.at[1]])]
				}
			case effort.ShapeFactor:
				for k := range gc {
					if f.combo[k] >= 0 {
						c.unary[k] += t[f.combo[k]]
					}
				}
			case effort.LinkFactor:
				for b := range gb {
					for k := range gc {
						c.pair[b*len(gc)+k] += t[at2(gb[b].Fingers[f.at[0]], gc[k].Fingers[f.at[1]])]
					}
				}
			case effort.DoubleFactor:
				for b := range gb {
					for k := range gc {
						if f.before[b] >= 0 && f.combo[k] >= 0 {
							c.pair[b*len(gc)+k] += t[int(f.before[b])*10+int(f.combo[k])]
						}
					}
				}
			case effort.RowFactor:
				i := 0
				for a := range ga {
					fa := int(ga[a].Fingers[f.at[0]]-1) * 25
					for b := range gb {
						row := t[fa+int(gb[b].Fingers[f.at[1]]-1)*5:][:5]
						for k := range gc {
							pot[i] += row[gc[k].Fingers[f.at[2]]-1]
							i++
						}
					}
				}
			}
		}
		i, low := 0, math.Inf(1)
		for range ga {
			for b := range gb {
				for k := range gc {
					pot[i] += c.pair[b*len(gc)+k] + c.unary[k]
					low = min(low, pot[i])
					i++
				}
			}
		}
		for i := range pot {
			pot[i] = math.Exp(low - pot[i])
		}
	}
}

// pass runs forward and backward, free or bound to the printed digits, and returns their tables normalised event by
// event.
func (c *chain) pass(g *segment, bound bool, fore, back [][]float64) ([][]float64, [][]float64) {
	n := len(g.events)
	if len(fore) < n {
		fore = append(fore, make([][]float64, n-len(fore))...)
		back = append(back, make([][]float64, n-len(back))...)
	}
	count := func(e int) int {
		if e < 0 {
			return 1
		}
		return len(g.events[e].grips)
	}
	for e := range n {
		na, nb, nc := count(e-2), count(e-1), count(e)
		fore[e] = grow(fore[e], nb*nc)
		f, pot := fore[e], c.pot[e]
		for a := range na {
			for b := range nb {
				w := 1.0
				if e > 0 {
					w = fore[e-1][a*nb+b]
				}
				if w == 0 {
					continue
				}
				row, out := pot[(a*nb+b)*nc:][:nc], f[b*nc:][:nc]
				for k := range row {
					out[k] += w * row[k]
				}
			}
		}
		total := 0.0
		ok := g.events[e].allowed
		for i := range f {
			if bound && ok != nil && !ok[i%nc] {
				f[i] = 0
			}
			total += f[i]
		}
		if total > 0 {
			for i := range f {
				f[i] /= total
			}
		}
	}
	for e := n - 1; e >= 0; e-- {
		nb, nc := count(e-1), count(e)
		back[e] = grow(back[e], nb*nc)
		if e == n-1 {
			for i := range back[e] {
				back[e][i] = 1
			}
			continue
		}
		nd := count(e + 1)
		ok := g.events[e+1].allowed
		total := 0.0
		for b := range nb {
			for k := range nc {
				row, after := c.pot[e+1][(b*nc+k)*nd:][:nd], back[e+1][k*nd:][:nd]
				sum := 0.0
				for d := range row {
					if bound && ok != nil && !ok[d] {
						continue
					}
					sum += row[d] * after[d]
				}
				back[e][b*nc+k] = sum
				total += sum
			}
		}
		if total > 0 {
			for i := range back[e] {
				back[e][i] /= total
			}
		}
	}
	return fore, back
}

// posterior writes the probability of each (a,b,c) of event e times weight onto out.
func (c *chain) posterior(g *segment, e int, weight float64, bound bool, fore, back [][]float64, out []float64) bool {
	nb, nc := 1, len(g.events[e].grips)
	if e > 0 {
		nb = len(g.events[e-1].grips)
	}
	na := len(c.pot[e]) / nb / nc
	ok := g.events[e].allowed
	value := func(i int) float64 {
		k, ab := i%nc, i/nc
		if bound && ok != nil && !ok[k] {
			return 0
		}
		w := 1.0
		if e > 0 {
			w = fore[e-1][ab]
		}
		return w * c.pot[e][i] * back[e][ab%nb*nc+k]
	}
	total := 0.0
	for i := range na * nb * nc {
		total += value(i)
	}
	if !(total > 0) || math.IsInf(total, 0) {
		return false
	}
	for i := range na * nb * nc {
		out[i] += weight * value(i) / total
	}
	return true
}
