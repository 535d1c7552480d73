package lattice

import "slices"

// Workspace is the memory of a search: its slices grow to the longest line and are used again. The zero value is ready.
// One goroutine at a time may use it.
//
// The order of a search stands in its types, each step gives what the next one takes:
//
//	New ─► Lattice ─► Workspace.Price ─► Priced ─► Forward ─► Forward.Backward ─► Marginals
//	                                       ├────► Posterior
//	                                       └────► MostAgreement, by gains that a posterior says
type Workspace struct {
	priced int // how often prices were made: what an earlier call gave may not be used any more

	unary, pair, triple []int32
	flat                []bool
	extra               []int32 // per grip: what With adds
	change              []int32 // one event's changes on held keys

	least      tables
	prev, next []uint8
	cheapest   leastPass

	sum    sumPass
	agreed agreePass
	block  []int64 // one event's pairs, before they are held against those of the search before
	best   []int64 // one event's pairs with the cheapest way up to them, as it is found
	ahead  []int64 // one event's pairs with what is on from them
}

// Size is about how much memory the workspace holds, in bytes.
func (w *Workspace) Size() int {
	words := cap(w.unary) + cap(w.pair) + cap(w.triple) + cap(w.extra) + cap(w.sum.extra) + cap(w.agreed.extra)
	long := cap(w.least.fore) + cap(w.least.back) + cap(w.sum.fore) + cap(w.sum.back) + cap(w.sum.grip) +
		cap(w.agreed.fore) + cap(w.agreed.gain)
	return 4*words + 8*long + cap(w.prev) + cap(w.next) + cap(w.agreed.prev)
}

// tables are the results of a forward and a backward pass, per pair of grips.
type tables struct{ fore, back []int64 }

// Priced is a lattice with the prices of a model. It stands until its workspace prices the next lattice.
type Priced struct {
	l    *Lattice
	work *Workspace
	call int // which call of Price made it

	pair, triple []int32 // as Lattice.pairs and Lattice.triple lay them out; a pair has its second grip's price too
	flat         []bool  // event → all its triples cost 0
}

// Price asks the model for all prices of l. It takes time and memory linear in the number of events. What came from an
// earlier call is void: using it panics.
func (w *Workspace) Price(l *Lattice, m Model) *Priced {
	n := l.Events()
	w.priced++
	w.unary = resize(w.unary, len(l.grips))
	w.pair = resize(w.pair, l.pairs[n])
	w.triple = resize(w.triple, l.triple[n])
	w.flat = resize(w.flat, n)
	w.anew(l)
	p := &Priced{l: l, work: w, call: w.priced, pair: w.pair, triple: w.triple, flat: w.flat}
	for e := range n {
		unary := w.unary[l.first[e]:l.first[e+1]]
		m.Unary(e, unary)
		for g, h := range l.Hard(e) {
			unary[g] += h
		}
		pair := p.pair[l.pairs[e]:l.pairs[e+1]]
		if e == 0 {
			clear(pair)
		} else {
			m.Pair(e, pair)
			l.AddChanges(e, ChangeOnHeldKey, pair)
			l.AddRolls(e, pair)
		}
		addToRows(pair, unary) // the price of the grip itself is paid on entering it
		p.flat[e] = e < 2 || !m.Triple(e, p.triple[l.triple[e]:l.triple[e+1]])
	}
	return p
}

// addToRows adds what each grip costs to the pairs that end with it.
func addToRows(pair, grip []int32) {
	for len(pair) >= len(grip) && len(grip) > 0 {
		row := pair[:len(grip)]
		for g, price := range grip {
			row[g] += price
		}
		pair = pair[len(grip):]
	}
}

// anew says that prices are others: nothing is added to them, and what passes came to before holds no more.
func (w *Workspace) anew(l *Lattice) {
	w.extra = resize(w.extra, len(l.grips))
	clear(w.extra)
	w.sum.stands, w.agreed.stands, w.cheapest.stands = false, false, false
}

// With gives the prices of Price with extra[g] (laid out event after event, as grips are; 1/4096 nat) added to that of
// every grip, in place of what an earlier call added. What came from the prices before is void. The passes that add up
// probabilities, and the decode, search anew only where something bears on what differs.
func (p *Priced) With(extra []int32) *Priced {
	p.mustStand()
	l, w := p.l, p.work
	w.priced++
	for e := range l.Events() {
		from, to := l.first[e], l.first[e+1]
		before, now := w.extra[from:to], extra[from:to]
		if slices.Equal(before, now) {
			continue
		}
		pair := p.pair[l.pairs[e]:l.pairs[e+1]]
		for g := range now {
			more := now[g] - before[g]
			for i := g; more != 0 && i < len(pair); i += len(now) {
				pair[i] += more
			}
		}
		copy(before, now)
	}
	out := *p
	out.call = w.priced
	return &out
}

// Repriced gives prices that differ from those of p in pairs alone, in a workspace of its own: change adds to the pairs
// of an event (laid out as Model.Pair does) what they cost more, and is false where it adds nothing. The triples are those
// of p. It gives nil where nothing differs.
func (w *Workspace) Repriced(p *Priced, change func(e int, pair []int32) bool) *Priced {
	p.mustStand()
	l, differs := p.l, false
	w.priced++
	w.anew(l)
	w.pair = resize(w.pair, len(p.pair))
	copy(w.pair, p.pair)
	for e := range l.Events() {
		differs = change(e, w.pair[l.pairs[e]:l.pairs[e+1]]) || differs
	}
	if !differs {
		return nil
	}
	return &Priced{l: l, work: w, call: w.priced, pair: w.pair, triple: p.triple, flat: p.flat}
}

// Lattice is the lattice that was priced.
func (p *Priced) Lattice() *Lattice { return p.l }

// mustStand panics where the workspace has priced another lattice since: a fault of the caller.
func (p *Priced) mustStand() {
	if p.call != p.work.priced {
		panic("lattice: prices used after their workspace priced another lattice")
	}
}

// resize gives a slice of n values, in the memory of s where that is large enough; else in more than asked for, since the
// next line may be longer still.
func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/2)
	}
	return s[:n]
}

// Cost is what a path through the lattice costs: one grip an event.
func (p *Priced) Cost(path []int) int64 { return p.StretchCost(0, path) }

// StretchCost is what a stretch of a path costs from its third event on, in the order of its events; where the stretch
// begins the line, from the first on. It compares stretches that begin and end with the same two grips.
func (p *Priced) StretchCost(from int, stretch []int) int64 {
	p.mustStand()
	l, cost := p.l, int64(0)
	for w, c := range stretch {
		e := from + w
		if from > 0 && w < 2 {
			continue
		}
		b := 0
		if w > 0 {
			b = stretch[w-1]
		}
		cost += int64(p.pair[l.pairs[e]+b*l.Count(e)+c])
		if e >= 2 && !p.flat[e] {
			cost += int64(p.triple[l.triple[e]+(stretch[w-2]*l.Count(e-1)+b)*l.Count(e)+c])
		}
	}
	return cost
}
