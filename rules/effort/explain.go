package effort

import "fingerproof/rules/fingering"

// Explain gives what the effort of event e is made of when the last three events are taken with grips a, b and c: for
// each struck key and criterion a cost in 1/4096 nat. Prices of the lattice itself (limits, changes on held keys) are
// not in it.
func (m *Model) Explain(e int, a, b, c fingering.Grip, out func(strike int, criterion string, cost int32)) {
	keys := m.line.Events[e].Keys
	before := 0
	if e > 0 {
		before = len(m.line.Events[e-1].Keys)
	}
	for _, f := range m.Factors(e) {
		combo := f.Combination(before, len(keys), a, b, c)
		if combo < 0 {
			continue
		}
		strike := m.strikeOf(e, &f)
		for _, x := range f.Entries {
			if int(x.Combo) == combo {
				out(strike, x.Term.Criterion(), fixed(int64(m.pricer.terms[x.Term])*int64(x.Value)))
			}
		}
		for _, x := range f.Contexts {
			for _, h := range m.pricer.habit[x] {
				if int(h.Combo) == combo {
					out(strike, "habit", m.pricer.habitPrice(h))
				}
			}
		}
	}
	m.explainAims(e, b, c, out)
	for i, k := range keys {
		if k.Struck {
			if v := m.otherThanRemembered(k.Strike, c.Fingers[i]); v != 0 {
				out(k.Strike, "parallel", v)
			}
			if v := m.bonus[k.Strike][c.Fingers[i]-1]; v != 0 {
				out(k.Strike, "pattern", v)
			}
		}
	}
}

// strikeOf says to which struck key of event e a factor is counted: the last it looks at that is struck.
func (m *Model) strikeOf(e int, f *Factor) int {
	keys := m.line.Events[e].Keys
	at := m.high[e]
	switch f.Kind {
	case NoteFactor:
		at = f.At[0]
	case ChordFactor:
		at = f.At[1]
		if !keys[at].Struck {
			at = f.At[0]
		}
	case LinkFactor:
		at = f.At[1]
	case RowFactor:
		at = f.At[2]
	}
	return keys[at].Strike
}

// explainAims charges what Unary and Pair add for the aims.
func (m *Model) explainAims(e int, b, c fingering.Grip, out func(strike int, criterion string, cost int32)) {
	if !m.pricer.aims.On {
		return
	}
	keys := m.line.Events[e].Keys
	charge := func(strike int, criterion string, milli int64) {
		if milli != 0 {
			out(strike, criterion, fixed(milli*1000))
		}
	}
	at := keys[m.high[e]].Strike
	if i := int(m.high[e]); c.Fingers[i] == 1 && m.repeatsFast(e, i) {
		charge(at, "tempo", thumbAgain*int64(m.pricer.aims.Tempo)/100)
	}
	if len(keys) > 1 || m.leads(e) {
		line, reach := m.gripAims(e, c)
		charge(at, "line", line)
		charge(at, "reach", reach)
	}
	if e == 0 {
		return
	}
	if t, ok := m.jointAt(e); ok {
		line, tempo, _ := m.best(e, t, int(b.Fingers[t.i]), int(c.Fingers[t.j]), t.thumbward(b))
		charge(at, "line", line)
		charge(at, "tempo", tempo)
	}
}
