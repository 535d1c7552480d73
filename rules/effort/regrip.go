package effort

// Keys that are struck together again.

// struckAgain says that event e strikes several keys together, the same as the event before, and nothing is held at
// either.
func (m *Model) struckAgain(e int) bool { return m.strikesSame(e-1, e) }

// strikesSame says that two events strike the same keys, several together, and that nothing is held at either.
func (m *Model) strikesSame(before, e int) bool {
	if before < 0 {
		return false
	}
	a, b := m.line.Events[before].Keys, m.line.Events[e].Keys
	if len(b) < 2 || len(a) != len(b) || int(m.struck[before]) != len(a) || int(m.struck[e]) != len(b) {
		return false
	}
	for i := range a {
		if a[i].Key != b[i].Key {
			return false
		}
	}
	return true
}

// regrip tells how keys are struck together again.
type regrip uint8

const (
	regripsSoon   regrip = iota // a double note, twice, the second time soon
	regripsSlowly               // a double note, twice, with time between
	regripsChord                // a chord, or anything three times and more
)

// regripAt tells of event e, which strikes the keys of the one before again.
func (m *Model) regripAt(e int) regrip {
	if len(m.line.Events[e].Keys) > 2 || m.struckAgain(e-1) || e+1 < len(m.line.Events) && m.struckAgain(e+1) {
		return regripsChord
	}
	if t := m.line.Events[e].Micros - m.line.Events[e-1].Micros; t > 0 && t < 2*m.pricer.aims.RepeatMicros {
		return regripsSoon
	}
	return regripsSlowly
}

// regripPrice is what other fingers cost on the keys of event e, which are struck again, in milli-nats.
func (m *Model) regripPrice(e int) int64 {
	return [...]int64{regripSoon, regripSlowly, regripChord}[m.regripAt(e)] * int64(m.pricer.aims.Tempo) / 100
}

// addRegrips adds what other fingers cost on keys that are struck together again, as Pair lays it out.
func (m *Model) addRegrips(e int, out []int32) {
	if m.pricer.aims.On && m.struckAgain(e) {
		m.onRegrips(e, fixed(m.regripPrice(e)*1000), out)
	}
}

// onRegrips adds a price to other fingers on the keys of event e, as Pair lays it out.
func (m *Model) onRegrips(e int, price int32, out []int32) {
	before, here := m.grips.Grips(e-1), m.grips.Grips(e)
	for a, ga := range before {
		for b, gb := range here {
			if ga.Fingers != gb.Fingers {
				out[a*len(here)+b] += price
			}
		}
	}
}
