package thin

import "slices"

// longestPass is how many events the reader is followed over without a fully known one between.
const longestPass = 400

// passes holds what the reader's way over a line rests on, worked out once: which ways there are to take each event, how
// far each is from each of the event before, and how turns were taken before.
type passes struct {
	line   []event
	memory *memory
	states [][]readerState
	truth  []int        // by event: which of its states is the fingering
	legal  []int        // by event: of how many states, the first, the reader thinks without digits
	moves  [][]int      // by event: the unease of a move, by state before and state
	turns  [][][]turned // by event and state before: how the turn to here was taken, in the order of the line
}

func newPasses(line []event, m *memory) *passes {
	n := len(line)
	p := &passes{line: line, memory: m, states: make([][]readerState, n), truth: make([]int, n), legal: make([]int, n),
		moves: make([][]int, n), turns: make([][][]turned, n)}
	for e := range line {
		s := m.table().states(&line[e], make([]int, len(line[e].keys)))
		if len(line[e].keys) > 5 {
			s = nil
		}
		p.legal[e] = len(s)
		at := slices.IndexFunc(s, func(s readerState) bool { return slices.Equal(s.fingers, line[e].fingers) })
		if at < 0 {
			at, s = len(s), append(s, readerState{line[e].fingers, 0})
		}
		p.states[e], p.truth[e] = s, at
		if e == 0 || line[e].apart {
			continue
		}
		before := p.states[e-1]
		p.moves[e] = make([]int, len(before)*len(s))
		p.turns[e] = make([][]turned, len(before))
		for j := range before {
			for k := range s {
				p.moves[e][j*len(s)+k] = m.table().moveUnease(&line[e-1], before[j].fingers, &line[e], s[k].fingers)
			}
			if m != nil {
				p.turns[e][j] = m.turns[turn(&line[e-1], before[j].fingers, &line[e])]
			}
		}
	}
	return p
}

// chordDigits are digits of a chord that may be printed on the way, where the reader needs them.
type chordDigits struct {
	keys  []int // of the chord, counted from the thumb
	known []int // the digits that are known then, 0 for the others
	cost  int
}

// way is what the pass from an event that is known whole asks for and gives.
type way struct {
	from  int                            // the event that is known whole; −1 at the beginning of the line
	stop  int                            // an event that is known whole in any case, beyond which nothing is asked
	known func(e int) []int              // the digits that stand at an event
	more  func(e int) []chordDigits      // what may be printed besides, the cheapest first
	print func(e int, more *chordDigits) // what is printed besides
	to    func(e int)                    // an event that may be the next known whole
}

// follow follows the reader from an event that is known whole over others that are not, as far as its way to the fingers of
// each is the fingering, and says whether it reads the line to its end.
func (p *passes) follow(w *way) bool {
	var cost []int
	n := len(p.line)
	if w.from >= 0 {
		cost = make([]int, len(p.states[w.from]))
		for k := range cost {
			cost[k] = -1
		}
		cost[p.truth[w.from]] = 0
	}
	for e := w.from + 1; e < n; e++ {
		if e-w.from > longestPass {
			return false
		}
		next, from := p.step(e, cost, w.from)
		if e > 0 && from != p.truth[e-1] {
			if e-1 == w.from {
				return false
			}
			helped := false
			for _, more := range w.more(e - 1) {
				next, from = p.step(e, p.mask(e-1, cost, more.known), w.from)
				if from == p.truth[e-1] {
					w.print(e-1, &more)
					helped = true
					break
				}
			}
			if !helped {
				return false
			}
		}
		w.to(e)
		if e >= w.stop || p.truth[e] >= p.legal[e] {
			return false
		}
		for k := range next {
			next[k] += p.states[e][k].ease
		}
		for k := p.legal[e]; k < len(next); k++ {
			next[k] = -1
		}
		cost = p.mask(e, next, w.known(e))
		if e == n-1 {
			if least(cost) == p.truth[e] {
				return true
			}
			for _, more := range w.more(e) {
				if least(p.mask(e, cost, more.known)) == p.truth[e] {
					w.print(e, &more)
					return true
				}
			}
			return false
		}
	}
	return true
}

// step goes on to an event: the unease of the best way to each of its states, and the state before on the way to the
// fingering. −1 is no way.
func (p *passes) step(e int, cost []int, certain int) (next []int, from int) {
	s := p.states[e]
	next = make([]int, len(s))
	if e == 0 {
		return next, -1
	}
	for k := range next {
		next[k] = -1
	}
	from = -1
	again := p.memory.again(p.line, e, certain)
	for j, c := range cost {
		if c < 0 {
			continue
		}
		if p.line[e].apart {
			for k := range s {
				if next[k] < 0 || c < next[k] {
					next[k] = c
					if k == p.truth[e] {
						from = j
					}
				}
			}
			continue
		}
		taken := p.memory.recalledOf(p.recall(e, j, certain), again, p.memory.told(p.line, e, certain, p.states[e-1][j].fingers))
		moves := p.moves[e][j*len(s) : (j+1)*len(s)]
		for k := range s {
			c := cost[j] + taken.unease(s[k].fingers, moves[k])
			if next[k] < 0 || c < next[k] {
				next[k] = c
				if k == p.truth[e] {
					from = j
				}
			}
		}
	}
	return next, from
}

// mask leaves of the ways to an event those that agree with known digits.
func (p *passes) mask(e int, cost, known []int) []int {
	out := slices.Clone(cost)
	for k := range out {
		if !agrees(p.states[e][k].fingers, known) {
			out[k] = -1
		}
	}
	return out
}

func least(cost []int) int {
	best := -1
	for k, c := range cost {
		if c >= 0 && (best < 0 || c < cost[best]) {
			best = k
		}
	}
	return best
}

// recall gives how a turn was taken that is certain up to an event, nil for none.
func (p *passes) recall(e, j, certain int) []int {
	seen := p.turns[e][j]
	for i := len(seen) - 1; i >= 0; i-- {
		if t := &seen[i]; t.event <= certain {
			if p.line[e].measure-p.line[t.event].measure > p.memory.reach(&p.line[e-1], &p.line[e]) {
				break
			}
			return t.fingers
		}
	}
	return nil
}
