package effort

import (
	"slices"

	"fingerproof/rules/fingering"
)

// Explain gives what the effort of event e is made of when the last three events are taken with grips a, b and c: for
// each struck key and criterion a cost in 1/4096 nat. Prices of the lattice itself (limits, changes on held keys) are
// not in it.
func (m *Model) Explain(e int, a, b, c fingering.Grip, out func(strike int, criterion string, cost int32)) {
	m.Account(e, a, b, c, func(strike, criterion int, cost int32) { out(strike, Criteria[criterion], cost) })
}

// Account gives what Explain does, with the number of each criterion in Criteria.
func (m *Model) Account(e int, a, b, c fingering.Grip, out func(strike, criterion int, cost int32)) {
	x := &account{m: m, e: e, keys: m.line.Events[e].Keys, out: out}
	x.emit = func(t Term, v int) {
		if v != 0 {
			out(x.strike, criterionOf[t], fixed(int64(m.pricer.terms[t])*int64(v)))
		}
	}
	for i, k := range x.keys {
		if k.Struck {
			x.note(i, c)
		}
	}
	for i := range x.keys {
		for j := i + 1; j < len(x.keys); j++ {
			if t := m.chordTable(e, i, j); t != nil {
				at := j
				if !x.keys[j].Struck {
					at = i
				}
				x.terms(at, t, combo2(c.Fingers[i], c.Fingers[j]))
			}
		}
	}
	if len(x.keys) > 1 {
		x.habit(int(m.high[e]), m.shapeContexts, Rank(c, len(x.keys)))
	}
	if e >= 1 {
		x.steps(b, c)
	}
	if e >= 2 {
		x.rows(a, b, c)
	}
	m.explainAims(e, b, c, out)
	if e >= 2 && m.strikesThrice(e) {
		v := m.thricePrice(a.Fingers[m.high[e-2]], b.Fingers[m.high[e-1]], c.Fingers[m.high[e]])
		out(x.keys[m.high[e]].Strike, tempoCriterion, fixed(v*1000))
	}
	for i, k := range x.keys {
		if k.Struck {
			if v := m.otherThanRemembered(k.Strike, c.Fingers[i]); v != 0 {
				out(k.Strike, parallelCriterion, v)
			}
			if v := m.bonus[k.Strike][c.Fingers[i]-1]; v != 0 {
				out(k.Strike, patternCriterion, v)
			}
		}
	}
}

// account is the work of Account: one event, and who is charged.
type account struct {
	m    *Model
	e    int
	keys []fingering.Sounding
	out  func(strike, criterion int, cost int32)

	emit   emit // charges strike for a term: one for all tables of the event
	strike int
}

// Numbers of criteria.
var (
	criterionOf = func() (out [Terms]int) {
		for t := range Terms {
			out[t] = slices.Index(Criteria, t.Criterion())
		}
		return out
	}()
	patternCriterion  = slices.Index(Criteria, "pattern")
	parallelCriterion = slices.Index(Criteria, "parallel")
	stretchCriterion  = slices.Index(Criteria, "stretch")
	habitCriterion    = slices.Index(Criteria, "habit")
	lineCriterion     = slices.Index(Criteria, "line")
	tempoCriterion    = slices.Index(Criteria, "tempo")
	reachCriterion    = slices.Index(Criteria, "reach")
)

// terms charges key at of the event the terms of a table.
func (x *account) terms(at int, t *table, combo int) {
	x.strike = x.keys[at].Strike
	t.fill(x.m.pricer, combo, x.emit)
}

// habit charges key at of the event what editors are in the habit of, in the contexts of the event; combo is less than
// 0 for none.
func (x *account) habit(at int, contexts func(e int, out []Context) []Context, combo int) {
	p := x.m.pricer
	if p.habit == nil || combo < 0 {
		return
	}
	p.scratch = contexts(x.e, p.scratch[:0])
	for _, s := range p.habitual(p.scratch) {
		for _, price := range p.habitPrices[s.from:s.to] {
			if int(price.Combo) == combo {
				x.out(x.keys[at].Strike, habitCriterion, price.Cost)
			}
		}
	}
}

// note charges one struck key.
func (x *account) note(i int, c fingering.Grip) {
	m, finger := x.m, int(c.Fingers[i]-1)
	x.strike = x.keys[i].Strike
	m.noteEntries(x.e, i, finger, finger+1, func(_ int, t Term, v int) { x.emit(t, v) })
	if m.pricer.habit != nil {
		x.out(x.keys[i].Strike, habitCriterion, m.habitOf(x.e, i)[finger])
	}
}

// steps charges what joins the event to the one before.
func (x *account) steps(b, c fingering.Grip) {
	m, leaps := x.m, x.m.leaps(x.e)
	before := m.line.Events[x.e-1].Keys
	for i, a := range before {
		for j, k := range x.keys {
			class, ok := m.linkClass(x.e, i, j)
			if !ok {
				continue
			}
			t, combo := m.stepTable(x.e, leaps, class, int(a.Key), int(k.Key)), combo2(b.Fingers[i], c.Fingers[j])
			if then := m.then(x.e-1, i); then != 0 {
				x.terms(j, t, combo2(fingering.Finger(then), c.Fingers[j]))
				continue
			}
			x.terms(j, t, combo)
			if class != InnerVoice {
				x.habit(j, func(e int, out []Context) []Context { return m.linkContexts(e, i, j, out) }, combo)
			}
		}
	}
	if r, q := Rank(b, len(before)), Rank(c, len(x.keys)); r >= 0 && q >= 0 {
		x.habit(int(m.high[x.e]), m.doubleContexts, r*10+q)
	}
}

// rows charges what joins the event to the two before.
func (x *account) rows(a, b, c fingering.Grip) {
	m, events := x.m, x.m.line.Events
	leaps := m.leaps(x.e-1) || m.leaps(x.e)
	for line := range 2 {
		i, j, k, single, ok := m.rowKeys(x.e, line)
		if !ok {
			continue
		}
		leaps := leaps || m.then(x.e-2, i) != 0 || m.then(x.e-1, j) != 0
		first, second, third := events[x.e-2].Keys[i], events[x.e-1].Keys[j], events[x.e].Keys[k]
		t := m.rowTable(leaps, single, int(first.Key), int(second.Key), int(third.Key))
		combo := int(a.Fingers[i]-1)*25 + combo2(b.Fingers[j], c.Fingers[k])
		x.terms(k, t, combo)
		x.habit(k, func(e int, out []Context) []Context { return m.rowContexts(e, i, j, k, single, out) }, combo)
	}
}

// explainAims charges what Unary and Pair add for the aims.
func (m *Model) explainAims(e int, b, c fingering.Grip, out func(strike, criterion int, cost int32)) {
	if !m.pricer.aims.On {
		return
	}
	keys := m.line.Events[e].Keys
	charge := func(strike, criterion int, milli int64) {
		if milli != 0 {
			out(strike, criterion, fixed(milli*1000))
		}
	}
	at := keys[m.high[e]].Strike
	if i := int(m.high[e]); c.Fingers[i] == 1 && m.repeatsFast(e, i) {
		charge(at, tempoCriterion, thumbAgain*int64(m.pricer.aims.Tempo)/100)
	}
	if len(keys) > 1 || m.leads(e) {
		line, reach := m.gripAims(e, c)
		charge(at, lineCriterion, line)
		charge(at, reachCriterion, reach)
	}
	if e == 0 {
		return
	}
	if m.struckAgain(e) && b.Fingers != c.Fingers {
		charge(at, tempoCriterion, m.regripPrice(e))
	}
	if m.octaveAt(e) {
		charge(at, stretchCriterion, m.brokenOctavePrice(e, b.Fingers[0], c.Fingers[0]))
	}
	if t, ok := m.jointAt(e); ok {
		line, tempo, _ := m.ofGrips(e, t, b, c)
		charge(at, lineCriterion, line)
		charge(at, tempoCriterion, tempo)
	}
}
