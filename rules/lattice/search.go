package lattice

import "slices"

// Search holds the prices of a lattice under a model and the tables of its passes. A Search can be used again and again:
// its slices grow to the longest line and are kept. It is not safe for use by two goroutines at once.
type Search struct {
	l *Lattice

	unary, pair, triple []int32
	flat                []bool  // event → all its triples cost 0
	change              []int32 // scratch: one event's changes on held keys

	fore, back []int64 // per grip pair: cost of the best way (or of all ways) up to it, and on from it
	prev, next []uint8 // per grip pair: the grip before, after, on the best way
}

// Load asks the model for all prices of l. It takes time and room linear in the number of events.
func (s *Search) Load(l *Lattice, m Model) {
	s.l = l
	n := l.Events()
	s.unary = resize(s.unary, len(l.grips))
	s.pair = resize(s.pair, l.pairs[n])
	s.triple = resize(s.triple, l.triple[n])
	s.flat = resize(s.flat, n)
	for e := range n {
		u := s.unary[l.first[e]:l.first[e+1]]
		m.Unary(e, u)
		for g, h := range l.Hard(e) {
			u[g] += h
		}
		p := s.pair[l.pairs[e]:l.pairs[e+1]]
		if e == 0 {
			clear(p)
		} else {
			m.Pair(e, p)
			l.AddChanges(e, ChangeOnHeldKey, p)
		}
		// The price of the grip itself is paid on entering it.
		for i := range p {
			p[i] += u[i%len(u)]
		}
		s.flat[e] = e < 2 || !m.Triple(e, s.triple[l.triple[e]:l.triple[e+1]])
	}
}

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// Cheapest runs the min-sum passes and returns the cheapest way, one grip an event, and its cost. Of ways that cost the
// same, the one with the smaller grip number at the last place where they differ is taken.
func (s *Search) Cheapest() (path []int, cost int64) {
	l := s.l
	n := l.Events()
	if n == 0 {
		return nil, 0
	}
	s.forwardMin()
	last := s.fore[l.pairs[n-1]:l.pairs[n]]
	g := l.Count(n - 1)
	at := 0
	for i := range last {
		if last[i] < last[at] || last[i] == last[at] && i%g < at%g {
			at = i
		}
	}
	return s.traceBack(n-1, at), last[at]
}

// traceBack follows the best way from grip pair i of event e to the beginning.
func (s *Search) traceBack(e, i int) []int {
	path := make([]int, e+1)
	for ; e >= 0; e-- {
		c := s.l.Count(e)
		a, b := i/c, i%c
		path[e] = b
		if e > 0 {
			i = int(s.prev[s.l.pairs[e]+i])*s.l.Count(e-1) + a
		}
	}
	return path
}

func (s *Search) forwardMin() {
	l := s.l
	s.fore = resize(s.fore, l.pairs[l.Events()])
	s.prev = resize(s.prev, l.pairs[l.Events()])
	for e := range l.Events() {
		ga, gb, gc := l.Count(e-2), l.Count(e-1), l.Count(e)
		pair, fore, prev := s.pair[l.pairs[e]:l.pairs[e+1]], s.fore[l.pairs[e]:l.pairs[e+1]], s.prev[l.pairs[e]:l.pairs[e+1]]
		if e == 0 {
			for i, p := range pair {
				fore[i], prev[i] = int64(p), 0
			}
			continue
		}
		before := s.fore[l.pairs[e-1]:l.pairs[e]]
		if s.flat[e] {
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
			continue
		}
		triple := s.triple[l.triple[e]:l.triple[e+1]]
		for b := range gb {
			for c := range gc {
				i := b*gc + c
				best, from := before[b]+int64(triple[i]), 0
				for a, at := 1, b; a < ga; a++ {
					at += gb
					if v := before[at] + int64(triple[at*gc+c]); v < best {
						best, from = v, a
					}
				}
				fore[i], prev[i] = best+int64(pair[i]), uint8(from)
			}
		}
	}
}

func (s *Search) backwardMin() {
	l := s.l
	n := l.Events()
	s.back = resize(s.back, l.pairs[n])
	s.next = resize(s.next, l.pairs[n])
	clear(s.back[l.pairs[n-1]:l.pairs[n]])
	clear(s.next[l.pairs[n-1]:l.pairs[n]])
	for e := n - 2; e >= 0; e-- {
		gb, gc, gd := l.Count(e-1), l.Count(e), l.Count(e+1)
		pair, after := s.pair[l.pairs[e+1]:l.pairs[e+2]], s.back[l.pairs[e+1]:l.pairs[e+2]]
		back, next := s.back[l.pairs[e]:l.pairs[e+1]], s.next[l.pairs[e]:l.pairs[e+1]]
		triple := s.triple[l.triple[e+1]:l.triple[e+2]]
		for b := range gb {
			for c := range gc {
				best, to := int64(1)<<62, 0
				for d := range gd {
					v := int64(pair[c*gd+d]) + after[c*gd+d]
					if !s.flat[e+1] {
						v += int64(triple[(b*gc+c)*gd+d])
					}
					if v < best {
						best, to = v, d
					}
				}
				back[b*gc+c], next[b*gc+c] = best, uint8(to)
			}
		}
	}
}

// Cost is what a way through the lattice costs.
func (s *Search) Cost(path []int) int64 {
	l, cost := s.l, int64(0)
	for e, c := range path {
		b := 0
		if e > 0 {
			b = path[e-1]
		}
		i := b*l.Count(e) + c
		cost += int64(s.pair[l.pairs[e]+i])
		if e >= 2 && !s.flat[e] {
			cost += int64(s.triple[l.triple[e]+(path[e-2]*l.Count(e-1)+b)*l.Count(e)+c])
		}
	}
	return cost
}

// CostOf is what a stretch of a way costs from its third event on, in the order of its events; where the stretch begins the line,
// from the first on. Stretches that begin and end with the same two grips can be compared by it.
func (s *Search) CostOf(from int, way []int) int64 {
	l, cost := s.l, int64(0)
	for w, c := range way {
		e := from + w
		if from > 0 && w < 2 {
			continue
		}
		b := 0
		if w > 0 {
			b = way[w-1]
		}
		cost += int64(s.pair[l.pairs[e]+b*l.Count(e)+c])
		if e >= 2 && !s.flat[e] {
			cost += int64(s.triple[l.triple[e]+(way[w-2]*l.Count(e-1)+b)*l.Count(e)+c])
		}
	}
	return cost
}

// Margins gives, for every grip of every event, what the best way through it costs. Call Cheapest first.
// The result is laid out event after event, as the grips are.
func (s *Search) Margins() []int64 {
	l := s.l
	out := make([]int64, len(l.grips))
	if l.Events() == 0 {
		return out
	}
	s.backwardMin()
	for e := range l.Events() {
		m := out[l.first[e]:l.first[e+1]]
		for i := range m {
			m[i] = 1 << 62
		}
		for i := l.pairs[e]; i < l.pairs[e+1]; i++ {
			g := (i - l.pairs[e]) % len(m)
			m[g] = min(m[g], s.fore[i]+s.back[i])
		}
	}
	return out
}

// Of cuts the part of event e out of a slice laid out grip by grip.
func (l *Lattice) Of(e int, perGrip []int64) []int64 { return perGrip[l.first[e]:l.first[e+1]] }

// longestPassage bounds how far a passage is followed on either side of the choice it follows from.
const longestPassage = 48

// Departure gives the best way through grip g of event e as far as it departs from path: the grips from event from on, up to
// where two events in a row agree with path again on either side. Call Margins first.
func (s *Search) Departure(e, g int, path []int) (from int, way []int) {
	l := s.l
	at, c := -1, l.Count(e)
	for i := g; i < l.Count(e-1)*c; i += c {
		if at < 0 || s.fore[l.pairs[e]+i]+s.back[l.pairs[e]+i] < s.fore[l.pairs[e]+at]+s.back[l.pairs[e]+at] {
			at = i
		}
	}
	way = append(way, g)
	from = e
	for i := at; from > 0 && e-from < longestPassage; from-- {
		c := l.Count(from)
		a, b := i/c, i%c
		if from < e && b == path[from] && a == path[from-1] {
			break
		}
		way = append(way, a)
		i = int(s.prev[l.pairs[from]+i])*l.Count(from-1) + a
	}
	slices.Reverse(way)
	for to, agree := e, 0; to+1 < l.Events() && to-e < longestPassage && agree < 2; to++ {
		next := int(s.next[l.pairs[to]+at])
		at = way[len(way)-1]*l.Count(to+1) + next
		way = append(way, next)
		if next == path[to+1] {
			agree++
		} else {
			agree = 0
		}
	}
	return from, way
}
