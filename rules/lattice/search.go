package lattice

import "slices"

// Forward is the min-sum forward pass over a priced lattice: for every pair of grips the cheapest path up to it.
type Forward struct {
	priced *Priced
	fore   []int64 // per pair of grips: the cost of the cheapest path up to it
	prev   []uint8 // per pair of grips: the grip before it on that path
}

// Cheapest is the cheapest path, one grip an event, and its cost; no path and 0 for a line without events. Of paths
// that cost the same, the one with the smaller grip number at the last place where they differ is taken.
func (f *Forward) Cheapest() (path []int, cost int64) {
	f.priced.mustStand()
	l := f.priced.l
	n := l.Events()
	if n == 0 {
		return nil, 0
	}
	path = leastPath(l, f.fore, f.prev)
	return path, f.priced.Cost(path)
}

// leastPath is the path of least cost by the tables of a forward pass, per pair of grips: the cost up to it and the
// grip before it. Of paths that cost the same, the one with the smaller grip number at the last place where they
// differ is taken.
func leastPath(l *Lattice, fore []int64, prev []uint8) []int {
	n := l.Events()
	last := fore[l.pairs[n-1]:l.pairs[n]]
	g := l.Count(n - 1)
	i := 0
	for k := range last {
		if last[k] < last[i] || last[k] == last[i] && k%g < i%g {
			i = k
		}
	}
	path := make([]int, n)
	for e := n - 1; e >= 0; e-- {
		c := l.Count(e)
		a, b := i/c, i%c
		path[e] = b
		if e > 0 {
			i = int(prev[l.pairs[e]+i])*l.Count(e-1) + a
		}
	}
	return path
}

// leastPass is what the min-sum forward pass came to last.
type leastPass struct {
	stands bool    // for the lattice, at the prices with extra
	extra  []int32 // per grip, as With adds it
}

// Forward runs the min-sum forward pass. Where it ran before on the same lattice, it searches only from where the extra
// prices differ up to where all costs of an event differ by the same: so they do from there on.
func (p *Priced) Forward() *Forward {
	p.mustStand()
	l, w, t := p.l, p.work, &p.work.cheapest
	if !t.stands {
		w.least.fore, w.prev = resize(w.least.fore, l.pairs[l.Events()]), resize(w.prev, l.pairs[l.Events()])
		t.extra = resize(t.extra, len(l.grips))
	}
	f := &Forward{priced: p, fore: w.least.fore, prev: w.prev}
	moved, shift := false, int64(0)
	for e := range l.Events() {
		fore, prev := f.fore[l.pairs[e]:l.pairs[e+1]], f.prev[l.pairs[e]:l.pairs[e+1]]
		if t.stands && !moved && !p.otherPrices(e, t.extra) {
			if shift != 0 {
				for i := range fore {
					fore[i] += shift
				}
			}
			continue
		}
		if !t.stands {
			p.leastUpTo(e, f.fore, fore, prev)
			continue
		}
		w.block = resize(w.block, len(fore))
		p.leastUpTo(e, f.fore, w.block, prev)
		shift = w.block[0] - fore[0]
		if moved = replace(fore, w.block); !moved {
			copy(fore, w.block)
		}
	}
	copy(t.extra, w.extra)
	t.stands = true
	return f
}

// leastUpTo fills the block of event e with what the cheapest paths up to its pairs cost, and the grips before them.
func (p *Priced) leastUpTo(e int, all, fore []int64, prev []uint8) {
	l := p.l
	ga, gb, gc := l.Count(e-2), l.Count(e-1), l.Count(e)
	pair := p.pair[l.pairs[e]:l.pairs[e+1]]
	if e == 0 {
		for i, c := range pair {
			fore[i], prev[i] = int64(c), 0
		}
		return
	}
	before := all[l.pairs[e-1]:l.pairs[e]]
	if p.flat[e] {
		for b := range gb {
			best, from := before[b], 0
			for a := 1; a < ga; a++ {
				if v := before[a*gb+b]; v < best {
					best, from = v, a
				}
			}
			for c := range gc {
				fore[b*gc+c], prev[b*gc+c] = best+int64(pair[b*gc+c]), uint8(from)
			}
		}
		return
	}
	for i, c := range pair {
		fore[i] = int64(c)
	}
	p.work.leastBefore(gb, gc, before, p.triple[l.triple[e]:l.triple[e+1]], fore, prev)
}

// Marginals are both min-sum passes: for every grip what the cheapest path through it costs (its min-marginal).
type Marginals struct {
	forward *Forward
	back    []int64 // per pair of grips: the cost of the cheapest path on from it
	next    []uint8 // per pair of grips: the grip after it on that path
	grip    []int64 // per grip: its min-marginal
}

// Backward runs the min-sum backward pass.
func (f *Forward) Backward() *Marginals {
	p := f.priced
	p.mustStand()
	l, w := p.l, p.work
	n := l.Events()
	w.least.back = resize(w.least.back, l.pairs[n])
	w.next = resize(w.next, l.pairs[n])
	m := &Marginals{forward: f, back: w.least.back, next: w.next}
	if n == 0 {
		return m
	}
	clear(m.back[l.pairs[n-1]:l.pairs[n]])
	clear(m.next[l.pairs[n-1]:l.pairs[n]])
	for e := n - 2; e >= 0; e-- {
		gb, gc, gd := l.Count(e-1), l.Count(e), l.Count(e+1)
		pair, after := p.pair[l.pairs[e+1]:l.pairs[e+2]], m.back[l.pairs[e+1]:l.pairs[e+2]]
		back, next := m.back[l.pairs[e]:l.pairs[e+1]], m.next[l.pairs[e]:l.pairs[e+1]]
		w.ahead = resize(w.ahead, len(after))
		for c := range gc {
			from := after[c*gd:][:gd]
			to, prices := w.ahead[c*gd:][:len(from)], pair[c*gd:][:len(from)]
			for d, v := range from {
				to[d] = ranked(int64(prices[d])+v, d)
			}
		}
		if p.flat[e+1] {
			for c := range gc {
				best := slices.Min(w.ahead[c*gd:][:gd])
				for i := c; i < len(back); i += gc {
					back[i], next[i] = costOf(best), gripOf(best)
				}
			}
			continue
		}
		triple := p.triple[l.triple[e+1]:l.triple[e+2]]
		for b := range gb {
			for c := range gc {
				i := b*gc + c
				row := triple[i*gd:][:gd]
				ahead := w.ahead[c*gd:][:len(row)]
				best := ahead[0] + ranked(int64(row[0]), 0)
				for d := 1; d < len(row); d++ {
					best = min(best, ahead[d]+ranked(int64(row[d]), 0))
				}
				back[i], next[i] = costOf(best), gripOf(best)
			}
		}
	}
	m.grip = m.perGrip()
	return m
}

// perGrip takes, of the pairs that end with a grip, the one that costs least.
func (m *Marginals) perGrip() []int64 {
	l, fore := m.forward.priced.l, m.forward.fore
	out := make([]int64, len(l.grips))
	for e := range l.Events() {
		grips := out[l.first[e]:l.first[e+1]]
		for i := range grips {
			grips[i] = 1 << 62
		}
		for i := l.pairs[e]; i < l.pairs[e+1]; i++ {
			g := (i - l.pairs[e]) % len(grips)
			grips[g] = min(grips[g], fore[i]+m.back[i])
		}
	}
	return out
}

// Of gives, for every grip of event e, what the cheapest path through it costs, in the order of Lattice.Grips.
func (m *Marginals) Of(e int) []int64 { return m.forward.priced.l.part(e, m.grip) }

// longestPassage bounds how many events a passage is followed on either side of the choice it follows from.
const longestPassage = 48

// Departure gives the cheapest path through grip g of event e as far as it departs from path: the grips from event from
// on, up to where two events in a row agree with path again on either side.
func (m *Marginals) Departure(e, g int, path []int) (from int, stretch []int) {
	m.forward.priced.mustStand()
	l := m.forward.priced.l
	fore, back := m.forward.fore[l.pairs[e]:l.pairs[e+1]], m.back[l.pairs[e]:l.pairs[e+1]]
	pair, c := -1, l.Count(e) // the pair of event e that ends with g and costs least
	for i := g; i < len(fore); i += c {
		if pair < 0 || fore[i]+back[i] < fore[pair]+back[pair] {
			pair = i
		}
	}
	stretch = append(make([]int, 0, 16), g)
	from = e
	for i := pair; from > 0 && e-from < longestPassage; from-- {
		c := l.Count(from)
		a, b := i/c, i%c
		if from < e && b == path[from] && a == path[from-1] {
			break
		}
		stretch = append(stretch, a)
		i = int(m.forward.prev[l.pairs[from]+i])*l.Count(from-1) + a
	}
	slices.Reverse(stretch)
	for to, agree := e, 0; to+1 < l.Events() && to-e < longestPassage && agree < 2; to++ {
		next := int(m.next[l.pairs[to]+pair])
		pair = stretch[len(stretch)-1]*l.Count(to+1) + next
		stretch = append(stretch, next)
		if next == path[to+1] {
			agree++
		} else {
			agree = 0
		}
	}
	return from, stretch
}
