package effort

import "fingerproof/rules/fingering"

// changedAtThird prices a finger that strikes a key twice and leaves it to another the third time, in milli-nats: fingers
// change with each stroke or not at all. Print has it at 3 of 297 places ('workbench idioms', on the mean of the folds).
const changedAtThird = 1500

// strikesThrice says that events e-2, e-1 and e strike one key alone, all the same, without a rest between, and are no turn.
func (m *Model) strikesThrice(e int) bool {
	if !m.pricer.aims.On || m.struck[e] != 1 || m.struck[e-1] != 1 || m.struck[e-2] != 1 {
		return false
	}
	var key [3]fingering.Sounding
	for i := range key {
		key[i] = m.line.Events[e-2+i].Keys[m.high[e-2+i]]
	}
	if m.anew(e-1) || m.anew(e) {
		return false
	}
	return key[0].Key == key[1].Key && key[1].Key == key[2].Key && !m.line.Strikes[key[1].Strike].Turn
}

// thricePrice is what three fingers on one key cost, struck again and again, in milli-nats.
func (m *Model) thricePrice(f, g, h fingering.Finger) int64 {
	if f == g && g != h {
		return changedAtThird * int64(m.pricer.aims.Tempo) / 100
	}
	return 0
}

// addThrice adds what three strokes of one key cost, as Triple lays it out.
func (m *Model) addThrice(e int, out []int32) {
	if !m.strikesThrice(e) {
		return
	}
	i, j, k := m.high[e-2], m.high[e-1], m.high[e]
	at, here := 0, m.grips.Grips(e)
	for _, first := range m.grips.Grips(e - 2) {
		for _, second := range m.grips.Grips(e - 1) {
			for _, third := range here {
				out[at] += fixed(m.thricePrice(first.Fingers[i], second.Fingers[j], third.Fingers[k]) * 1000)
				at++
			}
		}
	}
}
