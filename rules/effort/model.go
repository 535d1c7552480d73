package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Model prices one line for the search (it has the methods of lattice.Model).
type Model struct {
	*music
	pricer *Pricer
	grips  Grips
	// bonus per strike and finger, in 1/4096 nat: handbook runs, digits given at returns.
	bonus [][fingering.Fingers]int32
	runs  [][2]int
	// says is what the network holds against each finger, per strike, in milli-nats; nil where it is not asked.
	says [][fingering.Fingers]int32
	// returns is what a finger other than the remembered one costs, per strike, in 1/4096 nat; nil where nothing
	// returns.
	returns []int32
	// noteHabit is what editors are in the habit of, per strike and finger, in 1/4096 nat; known says of a strike that
	// it was asked for.
	noteHabit [][fingering.Fingers]int32
	known     []bool
}

// Runs lists the handbook runs found, each by its first and last event.
func (m *Model) Runs() [][2]int { return m.runs }

// Model prepares to price a line whose grips are given.
func (p *Pricer) Model(line *fingering.Line, grips Grips) *Model {
	m := &Model{
		pricer: p, music: newMusic(line), grips: grips, bonus: make([][fingering.Fingers]int32, len(line.Strikes)),
		noteHabit: make([][fingering.Fingers]int32, len(line.Strikes)), known: make([]bool, len(line.Strikes)),
	}
	m.addMemory()
	m.addReturns()
	m.addRuns()
	m.addRepeats()
	m.askNetwork()
	return m
}

// noteEntries calls out for each of the fingers from one up to another, counted from 0, and each term of one struck key.
func (m *Model) noteEntries(e, i, from, to int, out func(f int, t Term, v int)) {
	k := m.line.Events[e].Keys[i]
	black := hand.Black(int(k.Key))
	a, b := m.ranges(int32(k.Strike), m.next)
	c, d := m.ranges(int32(k.Strike), m.prev)
	per := func(l hand.Length) int { return int(l) * 1000 / int(hand.Octave) }
	single := len(m.line.Events[e].Keys) == 1
	for f := from; f < to; f++ {
		t := Term(f)
		if single {
			out(f, fingerSingle+t, 1000)
		} else {
			out(f, fingerChord+t, 1000)
		}
		if m.line.Hand == fingering.Left {
			out(f, fingerLeft+t, 1000)
		}
		if black {
			if single {
				out(f, fingerBlackSingle+t, 1000)
			} else {
				out(f, fingerBlackChord+t, 1000)
			}
		}
		out(f, risingAhead+t, per(a))
		out(f, fallingAhead+t, per(b))
		out(f, risingBehind+t, per(c))
		out(f, fallingBehind+t, per(d))
		if m.says != nil {
			out(f, learnedHabit, int(m.says[k.Strike][f]))
		}
	}
}

// Unary prices the grips of an event (see lattice.Model).
func (m *Model) Unary(e int, out []int32) {
	clear(out)
	grips := m.grips.Grips(e)
	keys := m.line.Events[e].Keys
	for i, k := range keys {
		if !k.Struck {
			continue
		}
		var sum [fingering.Fingers]int64
		m.noteEntries(e, i, 0, fingering.Fingers, func(f int, t Term, v int) { sum[f] += int64(m.pricer.terms[t]) * int64(v) })
		var price [fingering.Fingers]int32
		for f := range price {
			price[f] = fixed(sum[f]) + m.bonus[k.Strike][f] + m.otherThanRemembered(k.Strike, fingering.Finger(f+1))
		}
		if m.pricer.habit != nil {
			for f, cost := range m.habitOf(e, i) {
				price[f] += cost
			}
		}
		for g, grip := range grips {
			out[g] += price[grip.Fingers[i]-1]
		}
	}
	for i := range keys {
		for j := i + 1; j < len(keys); j++ {
			t := m.chordTable(e, i, j)
			if t == nil {
				continue
			}
			for g, grip := range grips {
				out[g] += t.price[combo2(grip.Fingers[i], grip.Fingers[j])]
			}
		}
	}
	m.unaryAims(e, out)
	if m.pricer.habit != nil && len(keys) > 1 {
		m.pricer.scratch = m.shapeContexts(e, m.pricer.scratch[:0])
		if len(m.pricer.scratch) > 0 {
			var price [10]int32
			m.pricer.add(m.pricer.scratch, price[:])
			for g, grip := range grips {
				if r := Rank(grip, len(keys)); r >= 0 {
					out[g] += price[r]
				}
			}
		}
	}
}

// habitOf is what editors are in the habit of at key i of event e, by finger.
func (m *Model) habitOf(e, i int) *[fingering.Fingers]int32 {
	s := m.line.Events[e].Keys[i].Strike
	out := &m.noteHabit[s]
	if !m.known[s] {
		m.pricer.scratch = m.noteContexts(e, i, m.pricer.scratch[:0])
		m.pricer.add(m.pricer.scratch, out[:])
		m.known[s] = true
	}
	return out
}

func (m *Model) chordTable(e, i, j int) *table {
	keys := m.line.Events[e].Keys
	if !keys[i].Struck && !keys[j].Struck {
		return nil
	}
	how := chordPair{held: keys[i].Struck != keys[j].Struck, adjacent: j == i+1}
	return m.pricer.chordTable(how, int(keys[i].Key), int(keys[j].Key))
}

func combo2(f, g fingering.Finger) int { return int(f-1)*5 + int(g-1) }

// Pair prices two events in a row (see lattice.Model).
func (m *Model) Pair(e int, out []int32) {
	clear(out)
	before, here := m.grips.Grips(e-1), m.grips.Grips(e)
	ka, kb := m.line.Events[e-1].Keys, m.line.Events[e].Keys
	n := len(here)
	leaps := m.leaps(e)
	for i := range ka {
		for j := range kb {
			class, ok := m.linkClass(e, i, j)
			if !ok {
				continue
			}
			step, then := m.stepTable(e, leaps, class, int(ka[i].Key), int(kb[j].Key)), m.then(e-1, i)
			price := step.price
			var own [25]int32
			if then != 0 {
				price = step.leftBy(then).price
			} else if m.pricer.habit != nil && class != InnerVoice {
				m.pricer.scratch = m.linkContexts(e, i, j, m.pricer.scratch[:0])
				copy(own[:], price)
				m.pricer.add(m.pricer.scratch, own[:])
				price = own[:]
			}
			for a, ga := range before {
				row := price[int(ga.Fingers[i]-1)*5:][:5]
				line := out[a*n:][:n]
				for b := range here {
					line[b] += row[here[b].Fingers[j]-1]
				}
			}
		}
	}
	m.pairAims(e, out)
	if m.pricer.habit != nil {
		m.pricer.scratch = m.doubleContexts(e, m.pricer.scratch[:0])
		if len(m.pricer.scratch) > 0 {
			var price [100]int32
			if m.pricer.add(m.pricer.scratch, price[:]) {
				for a, ga := range before {
					for b, gb := range here {
						if r, q := Rank(ga, 2), Rank(gb, 2); r >= 0 && q >= 0 {
							out[a*n+b] += price[r*10+q]
						}
					}
				}
			}
		}
	}
}

// then is the finger to which key i of event e is changed silently before the hand goes on, 0 for none.
func (m *Model) then(e, i int) int {
	return int(m.line.Strikes[m.line.Events[e].Keys[i].Strike].Then)
}

// leaps says that the hand leaves the keys of event e−1 to come down on those of event e: together they are wider than
// it spans, or a rest parts them. The fitted table alone knows no leaps.
func (m *Model) leaps(e int) bool {
	if !m.pricer.aims.On {
		return false
	}
	if m.anew(e) {
		return true
	}
	a, b := m.line.Events[e-1].Keys, m.line.Events[e].Keys
	low, high := min(a[0].Key, b[0].Key), max(a[len(a)-1].Key, b[len(b)-1].Key)
	return hand.Distance(int(low), int(high)) > m.pricer.profile.Practical(1, 5)
}

// stepTable prices the step from one key to the next: a leap is no stretch and no pass, only how far the hand moves
// counts; a step that comes late is priced between both.
func (m *Model) stepTable(e int, leaps bool, class Class, a, b int) *table {
	switch {
	case leaps:
		return m.pricer.leapTable(class, a, b)
	case m.comesLate(e):
		return m.pricer.lateTable(class, a, b)
	}
	return m.pricer.linkTable(class, a, b)
}

// rowTable prices three strokes in a row: nothing holds them together over a leap.
func (m *Model) rowTable(leaps, single bool, a, b, c int) *table {
	if leaps {
		return apart
	}
	return m.pricer.rowTable(single, a, b, c)
}

// leftBy is the table of a step that begins with another finger than the one that struck.
func (t *table) leftBy(finger int) *table {
	out := &table{price: make([]int32, len(t.price))}
	first := (finger - 1) * 5
	for f := 0; f < 25; f += 5 {
		copy(out.price[f:f+5], t.price[first:first+5])
	}
	out.fill = func(p *Pricer, combo int, emit emit) { t.fill(p, first+combo%5, emit) }
	return out
}

// apart is the table of strokes that a leap parts.
var apart = &table{price: make([]int32, 125), fill: func(*Pricer, int, emit) {}}

// rowKeys gives the keys of one outer line over events e-2, e-1 and e; line 0 is the upper one. ok is false for the
// lower line where both are one.
func (m *Model) rowKeys(e, line int) (i, j, k int, single, ok bool) {
	single = m.struck[e] == 1 && m.struck[e-1] == 1 && m.struck[e-2] == 1
	if line == 0 {
		return int(m.high[e-2]), int(m.high[e-1]), int(m.high[e]), single, true
	}
	return int(m.low[e-2]), int(m.low[e-1]), int(m.low[e]), single, !single
}

// Triple prices three events in a row (see lattice.Model).
func (m *Model) Triple(e int, out []int32) bool {
	ga, gb, gc := m.grips.Grips(e-2), m.grips.Grips(e-1), m.grips.Grips(e)
	events := m.line.Events
	leaps := m.leaps(e-1) || m.leaps(e)
	for line := range 2 {
		i, j, k, single, ok := m.rowKeys(e, line)
		if !ok {
			continue
		}
		leaps := leaps || m.then(e-2, i) != 0 || m.then(e-1, j) != 0
		a, b, c := events[e-2].Keys[i], events[e-1].Keys[j], events[e].Keys[k]
		price := m.rowTable(leaps, single, int(a.Key), int(b.Key), int(c.Key)).price
		if len(out) == len(price) && allFingers(ga) && allFingers(gb) && allFingers(gc) { // laid out as the table is
			copy(out, price)
			if m.pricer.habit != nil {
				m.pricer.scratch = m.rowContexts(e, i, j, k, single, m.pricer.scratch[:0])
				m.pricer.add(m.pricer.scratch, out)
			}
			continue
		}
		var own [125]int32
		if m.pricer.habit != nil {
			m.pricer.scratch = m.rowContexts(e, i, j, k, single, m.pricer.scratch[:0])
			copy(own[:], price)
			m.pricer.add(m.pricer.scratch, own[:])
			price = own[:]
		}
		at := 0
		for a := range ga {
			fa := int(ga[a].Fingers[i]-1) * 25
			for b := range gb {
				row := price[fa+int(gb[b].Fingers[j]-1)*5:][:5]
				block := out[at:][:len(gc)]
				at += len(gc)
				if line == 0 {
					for c := range block {
						block[c] = row[gc[c].Fingers[k]-1]
					}
				} else {
					for c := range block {
						block[c] += row[gc[c].Fingers[k]-1]
					}
				}
			}
		}
	}
	m.addThrice(e, out)
	return true
}

// allFingers says that grips are those of one key with every finger, the thumb first.
func allFingers(grips []fingering.Grip) bool {
	for f, g := range grips {
		if g.Fingers != [fingering.MaxKeys]fingering.Finger{fingering.Finger(f + 1)} {
			return false
		}
	}
	return len(grips) == fingering.Fingers
}

// add the habit prices of the contexts to a block, and report whether there were any.
func (p *Pricer) add(contexts []Context, price []int32) bool {
	spans := p.habitual(contexts)
	for _, at := range spans {
		for _, habit := range p.habitPrices[at.from:at.to] {
			price[habit.Combo] += habit.Cost
		}
	}
	return len(spans) > 0
}

// habitual gives where the habit prices of contexts lie, of those that have any, up to the next call. The prices are asked
// for side by side, too (see spans).
func (p *Pricer) habitual(contexts []Context) []span {
	p.spans = p.habit.spans(contexts, p.spans[:0])
	for _, at := range p.spans {
		p.fetched += p.habitPrices[at.from].Combo
	}
	return p.spans
}
