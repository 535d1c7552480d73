package lattice

import (
	"math"
	"math/bits"
)

// logAddStep is the grain of the log-add table in 1/4096 nat.
const logAddStep = 16

// logAdd[i] is ln(1+exp(-d)) for d = i·logAddStep, in 1/4096 nat, rounded; beyond the table it is 0. A test checks
// that no entry lies so near a rounding edge that another machine's mathematics could move it.
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

// Posterior is how likely each grip is among all paths, by both sum-product passes.
type Posterior struct {
	priced *Priced
	grip   []int64 // per grip: -ln of its probability
}

// Of gives for every grip of event e the cost, in 1/4096 nat, of its probability among all paths: -ln p, never below
// 0, in the order of Lattice.Grips.
func (p *Posterior) Of(e int) []int64 { return p.priced.l.part(e, p.grip) }

// Posterior runs the sum-product passes, forward and backward. Tables of the min-sum passes stay as they are.
func (p *Priced) Posterior() *Posterior {
	p.mustStand()
	l := p.l
	out := &Posterior{priced: p, grip: make([]int64, len(l.grips))}
	if l.Events() == 0 {
		return out
	}
	t := &p.work.sum
	t.fore, t.back = resize(t.fore, len(p.pair)), resize(t.back, len(p.pair))
	p.forwardSum(t.fore)
	p.backwardSum(t.back)
	for e := range l.Events() {
		m := out.Of(e)
		for g := range m {
			m[g] = 1 << 40
		}
		fore, back := t.fore[l.pairs[e]:l.pairs[e+1]], t.back[l.pairs[e]:l.pairs[e+1]]
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

// forwardSum fills, for every pair of grips, the joined cost of all paths up to it.
func (p *Priced) forwardSum(all []int64) {
	l := p.l
	for e := range l.Events() {
		ga, gb, gc := l.Count(e-2), l.Count(e-1), l.Count(e)
		pair, fore := p.pair[l.pairs[e]:l.pairs[e+1]], all[l.pairs[e]:l.pairs[e+1]]
		if e == 0 {
			for i, c := range pair {
				fore[i] = int64(c)
			}
			continue
		}
		before := all[l.pairs[e-1]:l.pairs[e]]
		if p.flat[e] {
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
		triple := p.triple[l.triple[e]:l.triple[e+1]]
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

// backwardSum fills, for every pair of grips, the joined cost of all paths on from it.
func (p *Priced) backwardSum(all []int64) {
	l := p.l
	n := l.Events()
	clear(all[l.pairs[n-1]:l.pairs[n]])
	for e := n - 2; e >= 0; e-- {
		gb, gc, gd := l.Count(e-1), l.Count(e), l.Count(e+1)
		pair, after := p.pair[l.pairs[e+1]:l.pairs[e+2]], all[l.pairs[e+1]:l.pairs[e+2]]
		back := all[l.pairs[e]:l.pairs[e+1]]
		triple := p.triple[l.triple[e+1]:l.triple[e+2]]
		flat := p.flat[e+1]
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

// LogOf gives the natural logarithm of a share of Agreement, in 1/4096 nat, above that of the least share there is: 0
// for 1 of Agreement or less.
func LogOf(share int64) int64 {
	if share <= 1 {
		return 0
	}
	// By halves: ln 2 in 1/4096 nat is 2839; within a half the line from 0 to it, bent by a table of sixteenths.
	whole := bits.Len64(uint64(share)) - 1
	rest := share<<16>>whole - 1<<16 // 0 … 65535
	i := rest >> 12
	a, b := int64(logs[i]), int64(logs[i+1])
	return int64(whole)*2839 + a + (b-a)*(rest&4095)>>12
}

// logs[i] is ln(1+i/16) in 1/4096 nat, rounded.
var logs = func() (t [17]int32) {
	for i := range t {
		t[i] = int32(math.Round(Nat * math.Log1p(float64(i)/16)))
	}
	return t
}()
