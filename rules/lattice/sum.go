package lattice

import (
	"math"
	"math/bits"
	"slices"
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

// sum joins two costs as probabilities add: -ln(exp(-a)+exp(-b)). What is added to both is added to the sum.
func sum(a, b int64) int64 {
	low := min(a, b)
	if d := uint64(max(a, b)-low) / logAddStep; d < uint64(len(logAdd)) {
		return low - int64(logAdd[d])
	}
	return low
}

// Posterior is how likely each grip is among all paths, by both sum-product passes. It stands as its prices do.
type Posterior struct {
	priced *Priced
	grip   []int64 // per grip: -ln of its probability
}

// Of gives for every grip of event e the cost, in 1/4096 nat, of its probability among all paths: -ln p, never below
// 0, in the order of Lattice.Grips.
func (p *Posterior) Of(e int) []int64 {
	p.priced.mustStand()
	return p.priced.l.part(e, p.grip)
}

// Moved says whether the posterior of event e may be another one than the posterior before it was, of the same
// lattice; it is true where there was none.
func (p *Posterior) Moved(e int) bool {
	p.priced.mustStand()
	return p.priced.work.sum.moved[e]
}

// sumPass is what the sum-product passes came to last. Within an event all costs may be off by the same: only their
// differences are looked at.
type sumPass struct {
	stands bool    // for the lattice, at the prices with extra
	extra  []int32 // per grip, as With adds it
	tables
	grip         []int64 // per grip: -ln of its probability
	moved        []bool  // event → its posterior was worked out in the last pass
	fores, backs []bool  // event → its table was, in the last pass
}

// Posterior runs the sum-product passes, forward and backward. Tables of the min-sum passes stay as they are. Where they
// ran before on the same lattice, they run again only from where the extra prices differ up to where that makes no
// difference any more.
func (p *Priced) Posterior() *Posterior {
	p.mustStand()
	l, t := p.l, &p.work.sum
	n := l.Events()
	if !t.stands {
		t.fore, t.back = resize(t.fore, len(p.pair)), resize(t.back, len(p.pair))
		t.grip, t.extra = resize(t.grip, len(l.grips)), resize(t.extra, len(l.grips))
		t.moved, t.fores, t.backs = resize(t.moved, n), resize(t.fores, n), resize(t.backs, n)
	}
	out := &Posterior{priced: p, grip: t.grip}
	if n == 0 {
		return out
	}
	p.forwardSum(t)
	p.backwardSum(t)
	for e := range n {
		if t.moved[e] = t.fores[e] || t.backs[e]; t.moved[e] {
			posteriorOf(l.part(e, t.grip), t.fore[l.pairs[e]:l.pairs[e+1]], t.back[l.pairs[e]:l.pairs[e+1]])
		}
	}
	copy(t.extra, p.work.extra)
	t.stands = true
	return out
}

// posteriorOf joins the costs of all paths through the pairs of an event that end with each grip.
func posteriorOf(m, fore, back []int64) {
	for g := range m {
		m[g] = 1 << 40
	}
	for len(fore) > 0 {
		for g := range m {
			m[g] = sum(m[g], fore[g]+back[g])
		}
		fore, back = fore[len(m):], back[len(m):]
	}
	total := m[0]
	for _, v := range m[1:] {
		total = sum(total, v)
	}
	for g := range m {
		m[g] = max(m[g]-total, 0)
	}
}

// otherPrices says that the extra prices of event e are not those that a pass ran with.
func (p *Priced) otherPrices(e int, of []int32) bool {
	from, to := p.l.first[e], p.l.first[e+1]
	return !slices.Equal(of[from:to], p.work.extra[from:to])
}

// replace puts a block of costs in place of an earlier one, unless they differ by the same throughout: then it is false.
func replace(old, now []int64) bool {
	shift := now[0] - old[0]
	for i := range now {
		if now[i]-old[i] != shift {
			copy(old, now)
			return true
		}
	}
	return false
}

// forwardSum fills, for every pair of grips, the joined cost of all paths up to it.
func (p *Priced) forwardSum(t *sumPass) {
	l, w := p.l, p.work
	for e := range l.Events() {
		if t.stands && !p.otherPrices(e, t.extra) && (e == 0 || !t.fores[e-1]) {
			t.fores[e] = false
			continue
		}
		fore := t.fore[l.pairs[e]:l.pairs[e+1]]
		if !t.stands {
			p.sumUpTo(e, t.fore, fore)
			t.fores[e] = true
			continue
		}
		w.block = resize(w.block, len(fore))
		p.sumUpTo(e, t.fore, w.block)
		t.fores[e] = replace(fore, w.block)
	}
}

// sumUpTo fills the block of event e with the joined costs of all paths up to its pairs.
func (p *Priced) sumUpTo(e int, all, fore []int64) {
	l := p.l
	gb, gc := l.Count(e-1), l.Count(e)
	pair := p.pair[l.pairs[e]:l.pairs[e+1]]
	if e == 0 {
		for i, c := range pair {
			fore[i] = int64(c)
		}
		return
	}
	before := all[l.pairs[e-1]:l.pairs[e]]
	if p.flat[e] {
		for b := range gb {
			v := before[b]
			for at := b + gb; at < len(before); at += gb {
				v = sum(v, before[at])
			}
			here, row := fore[b*gc:][:gc], pair[b*gc:][:gc]
			for c, price := range row {
				here[c] = v + int64(price)
			}
		}
		return
	}
	triple := p.triple[l.triple[e]:l.triple[e+1]]
	// As in leastBefore, triples are read in the order in which they lie.
	for b := range gb {
		here := fore[b*gc:][:gc]
		for c, price := range triple[b*gc:][:gc] {
			here[c] = before[b] + int64(price)
		}
	}
	for len(triple) > len(fore) {
		triple, before = triple[len(fore):], before[gb:]
		for b := range gb {
			v, row := before[b], triple[b*gc:][:gc]
			here := fore[b*gc:][:len(row)]
			for c, price := range row {
				here[c] = sum(here[c], v+int64(price))
			}
		}
	}
	for i, price := range pair[:len(fore)] {
		fore[i] += int64(price)
	}
}

// backwardSum fills, for every pair of grips, the joined cost of all paths on from it.
func (p *Priced) backwardSum(t *sumPass) {
	l, w := p.l, p.work
	n := l.Events()
	if t.backs[n-1] = !t.stands; !t.stands {
		clear(t.back[l.pairs[n-1]:l.pairs[n]])
	}
	for e := n - 2; e >= 0; e-- {
		if t.stands && !p.otherPrices(e+1, t.extra) && !t.backs[e+1] {
			t.backs[e] = false
			continue
		}
		back := t.back[l.pairs[e]:l.pairs[e+1]]
		if !t.stands {
			p.sumOnFrom(e, t.back, back)
			t.backs[e] = true
			continue
		}
		w.block = resize(w.block, len(back))
		p.sumOnFrom(e, t.back, w.block)
		t.backs[e] = replace(back, w.block)
	}
}

// sumOnFrom fills the block of event e with the joined costs of all paths on from its pairs.
func (p *Priced) sumOnFrom(e int, all, back []int64) {
	l, w := p.l, p.work
	gb, gc, gd := l.Count(e-1), l.Count(e), l.Count(e+1)
	after := all[l.pairs[e+1]:l.pairs[e+2]]
	w.ahead = resize(w.ahead, len(after))
	ahead := w.ahead
	for i, price := range p.pair[l.pairs[e+1]:l.pairs[e+2]] {
		ahead[i] = int64(price) + after[i]
	}
	if p.flat[e+1] {
		for c := range gc {
			v := ahead[c*gd]
			for _, x := range ahead[c*gd+1:][:gd-1] {
				v = sum(v, x)
			}
			for i := c; i < len(back); i += gc {
				back[i] = v
			}
		}
		return
	}
	triple := p.triple[l.triple[e+1]:l.triple[e+2]]
	for b := range gb {
		for c := range gc {
			i := b*gc + c
			row, on := triple[i*gd:][:gd], ahead[c*gd:][:gd]
			v := on[0] + int64(row[0])
			for d := 1; d < len(row) && d < len(on); d++ {
				v = sum(v, on[d]+int64(row[d]))
			}
			back[i] = v
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
