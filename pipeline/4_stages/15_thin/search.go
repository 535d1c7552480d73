package thin

// search prints the digits that are worth most of all sets from which the reader finds the fingering. What a digit is worth
// is how likely editions print it, less a price that is the same for all and goes by the density alone: a piece in which the
// hand moves much has more digits than an easy one, as in print, and what changes in one measure changes nothing in another.
// Between two events that are known whole the reader looks at nothing outside, so the best set is found from left to right,
// by the events that are known whole (Bellman's principle).
func (p *plan) search() {
	for _, h := range p.hands {
		h.printBest(priceOf(h.in.Style.Density))
	}
}

// priceOf is what a digit costs, in thousandths: as much as it has to be worth so that over a collection as many notes in a
// hundred have one as are asked for; where no density is asked for, as much as a digit is worth at most. It was chosen on
// every sixth piece of the fingered material.
func priceOf(density int) int {
	const each, all = 13, 76 // from here on all that is wanted at all is worth it, and then what one would leave bare
	return dearest - each*min(density, all) - 60*max(density-all, 0)
}

// dearest is the highest price, that of a digit which editions print for certain: a higher one would have fewer digits
// stand, but hardly where editions have them.
const dearest = 1000

// bestSet finds the best set of a hand at a price. What it gains or costs is counted from left to right; an event may be
// known whole, or show some digits of a chord, or none.
type bestSet struct {
	*planner
	price int
	part  [][]int // by event: the digits of a chord that are worth their price, where it is not known whole
	gain  []int   // what they gain
	whole []bool  // by event: known whole in any case
	stop  []int   // by event and one more for the beginning: the first after it that is known whole in any case
	best  []int   // by event: the least cost up to it, where it is known whole
	from  []int   // by event: the one known whole before it, −1 for none
	end   int     // the least cost of all
	last  int     // the last event that is known whole then
}

// none is more than anything costs.
const none = 1 << 60

// printBest prints the digits of the best set at a price.
func (p *planner) printBest(price int) {
	n := len(p.line)
	if n == 0 {
		return
	}
	s := &bestSet{planner: p, price: price, part: make([][]int, n), gain: make([]int, n), whole: make([]bool, n),
		stop: make([]int, n+1), best: make([]int, n), from: make([]int, n), end: none, last: -1}
	next := n
	for e := n - 1; e >= 0; e-- {
		s.best[e] = none
		s.part[e], s.gain[e] = p.bestPart(e, price)
		s.stop[e+1] = next
		if s.whole[e] = p.complete(e); s.whole[e] {
			next = e
		}
	}
	s.stop[0] = next
	for a := -1; a < n; a++ {
		if a < 0 || s.best[a] < none {
			s.goOn(a)
		}
	}
	s.print()
}

// follow follows the reader from an event that is known whole.
func (s *bestSet) follow(a int, print func(e int, more *chordDigits), to func(e int)) bool {
	return s.passes.follow(&way{from: a, stop: s.stop[a+1], print: print, to: to,
		known: func(e int) []int {
			out := s.known(e)
			for _, k := range s.part[e] {
				out[k] = s.line[e].fingers[k]
			}
			return out
		},
		more: func(e int) []chordDigits { return s.more(e, s.part[e], s.price) },
	})
}

// goOn goes on from an event that is known whole to all that may be the next.
func (s *bestSet) goOn(a int) {
	sum, shown, n := 0, a, len(s.line)
	if a >= 0 {
		sum = s.best[a]
	}
	show := func(e int) {
		sum += s.unseemly(shown, e, s.price)
		shown = e
	}
	more := func(e int, digits *chordDigits) {
		sum += digits.cost
		if shown < e {
			show(e)
		}
	}
	ends := s.follow(a, more, func(e int) {
		if e > a+1 {
			sum -= s.gain[e-1]
		}
		cost := sum + s.unseemly(shown, e, s.price)
		for k, i := range s.line[e].notes {
			if candidate(s.in, i) && !s.out[i] {
				cost += s.price - s.value(e, k)
			}
		}
		if cost < s.best[e] {
			s.best[e], s.from[e] = cost, a
		}
		if len(s.part[e]) > 0 || s.shows(e) {
			show(e)
		}
	})
	if ends && a < n-1 {
		sum -= s.gain[n-1]
	}
	if ends && s.stop[a+1] == n && sum < s.end {
		s.end, s.last = sum, a
	}
}

// print prints the set that was found, from its end.
func (s *bestSet) print() {
	before := len(s.line) // the event known whole after those that are printed
	for a := s.last; ; a = s.from[a] {
		s.follow(a, func(e int, digits *chordDigits) {
			if e < before {
				s.planner.print(e, Needed, digits.keys...)
			}
		}, func(int) {})
		for e := a + 1; e < before; e++ {
			s.planner.print(e, Wanted, s.part[e]...)
		}
		if a < 0 {
			return
		}
		s.printAll(a, Wanted)
		before = a
	}
}
