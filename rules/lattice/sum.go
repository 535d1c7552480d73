package lattice

import "math"

// logAddStep is the grain of the log-add table in 1/4096 nat.
const logAddStep = 16

// logAdd[i] is ln(1+exp(-d)) for d = i·logAddStep, in 1/4096 nat, rounded; beyond the table it is 0. A test checks that no
// entry lies so near a rounding edge that another machine's mathematics could move it.
var logAdd = func() (t [2400]int16) {
	for i := range t {
		t[i] = int16(math.Round(logAddExact(i)))
	}
	return t
}()

func logAddExact(i int) float64 {
	return Nat * math.Log1p(math.Exp(-float64(i*logAddStep)/Nat))
}

// sum joins two costs as probabilities add: -ln(exp(-a)+exp(-b)).
func sum(a, b int64) int64 {
	if a > b {
		a, b = b, a
	}
	if d := (b - a) / logAddStep; d < int64(len(logAdd)) {
		return a - int64(logAdd[d])
	}
	return a
}

// Posteriors gives for every grip of every event the cost, in 1/4096 nat, of its probability among all ways: -ln p,
// never below 0. The result is laid out event after event. It runs the sum-product passes and overwrites the tables of
// Cheapest and Margins.
func (s *Search) Posteriors() []int64 {
	l := s.l
	n := l.Events()
	out := make([]int64, len(l.grips))
	if n == 0 {
		return out
	}
	s.forwardSum()
	s.backwardSum()
	for e := range n {
		m := out[l.first[e]:l.first[e+1]]
		for g := range m {
			m[g] = 1 << 40
		}
		fore, back := s.fore[l.pairs[e]:l.pairs[e+1]], s.back[l.pairs[e]:l.pairs[e+1]]
		for i := range fore {
			g := i % len(m)
			m[g] = sum(m[g], fore[i]+back[i])
		}
		total := m[0]
		for _, v := range m[1:] {
			total = sum(total, v)
		}
		for g := range m {
			m[g] = max(m[g]-total, 0)
		}
	}
	return out
}

func (s *Search) forwardSum() {
	l := s.l
	s.fore = resize(s.fore, l.pairs[l.Events()])
	for e := range l.Events() {
		ga, gb, gc := l.Count(e-2), l.Count(e-1), l.Count(e)
		pair, fore := s.pair[l.pairs[e]:l.pairs[e+1]], s.fore[l.pairs[e]:l.pairs[e+1]]
		if e == 0 {
			for i, p := range pair {
				fore[i] = int64(p)
			}
			continue
		}
		before := s.fore[l.pairs[e-1]:l.pairs[e]]
		if s.flat[e] {
			for b := range gb {
				v := before[b]
				for a := 1; a < ga; a++ {
					v = sum(v, before[a*gb+b])
				}
				for c := range gc {
					fore[b*gc+c] = v + int64(pair[b*gc+c])
				}
			}
			continue
		}
		triple := s.triple[l.triple[e]:l.triple[e+1]]
		for b := range gb {
			for c := range gc {
				i := b*gc + c
				v := before[b] + int64(triple[i])
				for a, at := 1, b; a < ga; a++ {
					at += gb
					v = sum(v, before[at]+int64(triple[at*gc+c]))
				}
				fore[i] = v + int64(pair[i])
			}
		}
	}
}

func (s *Search) backwardSum() {
	l := s.l
	n := l.Events()
	s.back = resize(s.back, l.pairs[n])
	clear(s.back[l.pairs[n-1]:l.pairs[n]])
	for e := n - 2; e >= 0; e-- {
		gb, gc, gd := l.Count(e-1), l.Count(e), l.Count(e+1)
		pair, after := s.pair[l.pairs[e+1]:l.pairs[e+2]], s.back[l.pairs[e+1]:l.pairs[e+2]]
		back := s.back[l.pairs[e]:l.pairs[e+1]]
		triple := s.triple[l.triple[e+1]:l.triple[e+2]]
		flat := s.flat[e+1]
		for b := range gb {
			for c := range gc {
				v := int64(1) << 60
				for d := range gd {
					w := int64(pair[c*gd+d]) + after[c*gd+d]
					if !flat {
						w += int64(triple[(b*gc+c)*gd+d])
					}
					v = sum(v, w)
				}
				back[b*gc+c] = v
			}
		}
	}
}

// ReleaseTables lets go of the tables of the min-sum passes, so that a copy of the Search made before can go on using them.
func (s *Search) ReleaseTables() { s.fore, s.back, s.prev, s.next = nil, nil, nil, nil }

// Probability turns the cost of a probability into 1/65536, rounded down.
func Probability(cost int64) int64 {
	d := cost / expStep
	if d >= int64(len(exps)) {
		return 0
	}
	return int64(exps[d])
}

const expStep = 32

// exps[i] is exp(-d)·65536 for d = i·expStep in 1/4096 nat, rounded.
var exps = func() (t [1600]int32) {
	for i := range t {
		t[i] = int32(math.Round(expExact(i)))
	}
	return t
}()

func expExact(i int) float64 { return Agreement * math.Exp(-float64(i*expStep)/Nat) }
