package effort

import "fingerproof/rules/fingering"

// Explain tells what the effort of event e is made of when the last three events are taken with grips a, b and c: for
// each struck key and criterion a cost in 1/4096 nat. Prices of the lattice itself (limits, changes on held keys) are
// not in it.
func (m *Model) Explain(e int, a, b, c fingering.Grip, out func(strike int, criterion string, cost int32)) {
	keys := m.m.line.Events[e].Keys
	before := 0
	if e > 0 {
		before = len(m.m.line.Events[e-1].Keys)
	}
	for _, f := range m.Factors(e) {
		combo := f.Combination(before, len(keys), a, b, c)
		if combo < 0 {
			continue
		}
		strike := m.strikeOf(e, &f)
		for _, x := range f.Entries {
			if int(x.Combo) == combo {
				out(strike, x.Term.Criterion(), fixed(int64(m.p.terms[x.Term])*int64(x.Value)))
			}
		}
		for _, x := range f.Contexts {
			for _, h := range m.p.habit[x] {
				if int(h.Combo) == combo {
					out(strike, "habit", m.p.habitPrice(h))
				}
			}
		}
	}
	m.explainAims(e, b, c, out)
	for i, k := range keys {
		if k.Struck {
			if v := m.breaks(k.Strike, c.Fingers[i]); v != 0 {
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
	keys := m.m.line.Events[e].Keys
	at := m.m.high[e]
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
