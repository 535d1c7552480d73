package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// How strongly a digit given at an exact return counts, in thousandths of the weight, by how many strokes on either
// side are the same: one, two, three.
var memoryValue = [4]int64{0, 500, 1200, 2000}

// memoryContext names the surroundings of a struck key up to n strokes on either side, the octave left open.
func (m *music) memoryContext(e, i, n int) Context {
	k := m.line.Events[e].Keys[i]
	w := m.window(int32(k.Strike))
	for j := range w.d {
		if j < 3-n || j > 3+n {
			w.d[j] = 0
		}
	}
	shape := int(m.struck[e])*8 + i - int(m.low[e])
	return context(n, hand.Class(int(k.Key)), w.d[0], w.d[1], w.d[2], w.d[4], w.d[5], w.d[6], shape)
}

// addMemory rewards, on every key whose finger is open, the digits that are given where the same surroundings return.
// Only the longest agreement counts; several given digits share the reward.
func (m *Model) addMemory() {
	weight := int64(m.pricer.terms[memoryGiven])
	if weight == 0 {
		return
	}
	given := map[Context]*[fingering.Fingers]int64{}
	m.eachStruck(func(e, i int, k fingering.Sounding) {
		if k.Allowed&(k.Allowed-1) != 0 {
			return
		}
		for n := 1; n <= 3; n++ {
			c := m.memoryContext(e, i, n)
			if given[c] == nil {
				given[c] = new([fingering.Fingers]int64)
			}
			for f := range fingering.Fingers {
				if k.Allowed.Has(fingering.Finger(f + 1)) {
					given[c][f]++
				}
			}
		}
	})
	if len(given) == 0 {
		return
	}
	m.eachStruck(func(e, i int, k fingering.Sounding) {
		if k.Allowed&(k.Allowed-1) == 0 {
			return
		}
		for n := 3; n >= 1; n-- {
			votes := given[m.memoryContext(e, i, n)]
			if votes == nil {
				continue
			}
			total := int64(1)
			for _, v := range votes {
				total += 2 * v
			}
			for f, v := range votes {
				m.bonus[k.Strike][f] += fixed(weight * memoryValue[n] * 2 * v / total)
			}
			return
		}
	})
}

func (m *Model) eachStruck(visit func(e, i int, k fingering.Sounding)) {
	for e := range m.line.Events {
		for i, k := range m.line.Events[e].Keys {
			if k.Struck {
				visit(e, i, k)
			}
		}
	}
}

// addReturns prices fingers other than those remembered from where the passage stood before, at the weight of memory.
func (m *Model) addReturns() {
	for s := range m.line.Strikes {
		k := &m.line.Strikes[s]
		if !k.Remembered.Valid() || k.Worth <= 0 || k.Allowed&(k.Allowed-1) == 0 {
			continue
		}
		if m.returns == nil {
			m.returns = make([]int32, len(m.line.Strikes))
		}
		m.returns[s] = fixed(int64(k.Worth) * m.pricer.returnPercent * 10)
	}
}

// otherThanRemembered is what it costs that a strike is taken by another finger than the remembered one.
func (m *Model) otherThanRemembered(strike int, f fingering.Finger) int32 {
	if m.returns == nil || m.line.Strikes[strike].Remembered == f {
		return 0
	}
	return m.returns[strike]
}

// WithoutReturns prices the same line as if nothing were remembered.
func (m *Model) WithoutReturns() *Model {
	out := *m
	out.returns = nil
	return &out
}

// Remembering prices the same line with what is remembered in it now, which has changed since the model was made.
func (m *Model) Remembering() *Model {
	out := m.WithoutReturns()
	out.addReturns()
	return out
}

// Remembers says that something is remembered in the line.
func (m *Model) Remembers() bool { return m.returns != nil }

// Remembered fills out[g], laid out event after event as the grips are, with the part of Unary that is for what is
// remembered from where passages stood before; it is false, and leaves out as it is, where nothing is.
func (m *Model) Remembered(out []int32) bool {
	if m.returns == nil {
		return false
	}
	at := 0
	for e := range m.line.Events {
		grips := m.grips.Grips(e)
		for i, k := range m.line.Events[e].Keys {
			if !k.Struck || m.returns[k.Strike] == 0 {
				continue
			}
			for g := range grips {
				out[at+g] += m.otherThanRemembered(k.Strike, grips[g].Fingers[i])
			}
		}
		at += len(grips)
	}
	return true
}
