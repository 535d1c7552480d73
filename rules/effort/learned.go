package effort

import (
	"slices"

	"fingerproof/rules/fingering"
	"fingerproof/rules/learned"
)

// networkFor gives the network that a table asks, nil where it is not asked: without aims and at no weight. It is asked for
// every hand: what editors print is for hands of all sizes, and what one hand cannot reach or finds wide is said by the rules
// of reach. Were it asked for one hand alone, a hand a millimetre larger would be fingered by another taste.
func networkFor(w *Weights, aims Aims) *learned.Network {
	if w.Learned == nil || !aims.On || aims.NoLearned || aims.Habit == 0 || w.Terms[learnedHabit] == 0 {
		return nil
	}
	return w.Learned
}

// Asking gives the table with a network that is asked at a weight, in thousandths. The table itself stays as it is.
func (w *Weights) Asking(n *learned.Network, weight int32) *Weights {
	out := *w
	out.Learned, out.Terms[learnedHabit] = n, weight
	return &out
}

// Near given digits the network keeps little of its weight, for they say more than it does: so many percent for each
// event up to the nearest one, and at least so many. Chosen on folds, with four fifths of the digits given.
const (
	percentAnEvent = 10
	leastPercent   = 20
	farFromDigits  = 100 / percentAnEvent // events from which it has its whole weight
)

// askNetwork fills in what the network holds against each finger, less near given digits, and nothing inside a handbook
// run: there one even pattern is worth more than what is printed note by note.
func (m *Model) askNetwork() {
	if m.pricer.network == nil {
		return
	}
	m.says = slices.Clone(m.pricer.network.Says(m.line, &m.pricer.learned))
	for e, distance := range fromDigits(m.line.Events) {
		percent := int32(max(percentAnEvent*(distance+1), leastPercent))
		if m.insideRun(e) {
			percent = 0
		}
		if percent >= 100 {
			continue
		}
		for _, k := range m.line.Events[e].Keys {
			if k.Struck {
				for f, v := range m.says[k.Strike] {
					m.says[k.Strike][f] = v * percent / 100
				}
			}
		}
	}
}

// insideRun says that an event belongs to a handbook run.
func (m *Model) insideRun(e int) bool {
	return slices.ContainsFunc(m.runs, func(run [2]int) bool { return run[0] <= e && e <= run[1] })
}

// Network is what the network holds against each finger of a strike, in 1/4096 nat at its weight; zeros where it is not
// asked.
func (m *Model) Network(strike int) (out [fingering.Fingers]int32) {
	if m.says == nil {
		return out
	}
	for f, v := range m.says[strike] {
		out[f] = fixed(int64(m.pricer.terms[learnedHabit]) * int64(v))
	}
	return out
}

// OfNetwork adds what the network holds against the fingers of event e to its grips, less where times is −1. It is false
// where the network is not asked or holds nothing against any.
func (m *Model) OfNetwork(e int, times int32, unary []int32) (some bool) {
	if m.says == nil {
		return false
	}
	for i, k := range m.line.Events[e].Keys {
		if !k.Struck {
			continue
		}
		says := m.Network(k.Strike)
		for g, grip := range m.grips.Grips(e) {
			if v := says[grip.Fingers[i]-1]; v != 0 {
				unary[g] += times * v
				some = true
			}
		}
	}
	return some
}

// fromDigits gives how many events away the nearest given digit is of each event, farFromDigits at most.
func fromDigits(events []fingering.Event) []int {
	out := make([]int, len(events))
	near := farFromDigits
	for e := range events {
		if near = min(near+1, farFromDigits); digitGiven(&events[e]) {
			near = 0
		}
		out[e] = near
	}
	near = farFromDigits
	for e := range slices.Backward(out) {
		near = min(near+1, out[e])
		out[e] = near
	}
	return out
}

// digitGiven says that the fingers of some key that is struck are limited.
func digitGiven(e *fingering.Event) bool {
	return slices.ContainsFunc(e.Keys, func(k fingering.Sounding) bool { return k.Struck && k.Allowed != fingering.AnyFinger })
}
