package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// Lengths from which a run in one direction counts as a handbook run, in strokes.
const (
	longScale    = 8  // an octave
	longestScale = 15 // two octaves: the full reward
	longTriad    = 7  // two octaves
	longSeventh  = 9
)

// addRuns rewards the handbook's digit inside long scales and broken chords of single keys. Their first and last
// strokes stay free, unless the run turns back there on a black key, where neither thumb nor fifth is at home.
func (m *Model) addRuns() {
	n := len(m.line.Events)
	for from := 0; from+1 < n; {
		to := m.runEnd(from)
		if to-from+1 >= longTriad {
			m.addRun(from, to)
		}
		from = max(to, from+1)
	}
}

// runEnd gives the last event of the run of single keys in one direction that begins at from.
func (m *Model) runEnd(from int) int {
	to, direction := from, 0
	for to+1 < len(m.line.Events) {
		if m.struck[to] != 1 || m.struck[to+1] != 1 || !m.line.Events[to+1].Joined {
			break
		}
		d := m.keyAt(to+1) - m.keyAt(to)
		if d == 0 || direction != 0 && (d > 0) != (direction > 0) || abs(d) > 6 {
			break
		}
		direction = d
		to++
	}
	return to
}

// keyAt is the sounding MIDI key struck at an event.
func (m *Model) keyAt(e int) int {
	return m.line.Hand.Mirror(int(m.line.Events[e].Keys[m.low[e]].Key))
}

func (m *Model) addRun(from, to int) {
	steps, leaps := 0, 0
	for e := from; e < to; e++ {
		if d := abs(m.keyAt(e+1) - m.keyAt(e)); d <= 3 {
			steps++
		} else {
			leaps++
		}
	}
	count := to - from + 1
	if leaps == 0 && count >= longScale {
		if kind, tonic, ok := m.scaleOf(from, to); ok {
			value := int64(1000)
			if count < longestScale {
				value = 500
			}
			m.reward(from, to, patternScale, value, func(e int) fingering.Finger {
				return scaleDigit(kind, tonic, degreeOf(scaleSteps[kind][:], tonic, m.keyAt(e)), m.line.Hand)
			})
			return
		}
	}
	low := min(m.keyAt(from), m.keyAt(to))
	for kind, chord := range chordSteps {
		need := longTriad
		if len(chord) == 4 {
			need = longSeventh
		}
		root := hand.Class(low)
		if count < need || !m.fits(chord, root, from, to) {
			continue
		}
		m.reward(from, to, patternChord, 1000, func(e int) fingering.Finger {
			return chordDigit(kind, root, degreeOf(chord, root, m.keyAt(e)), m.line.Hand)
		})
		return
	}
}

func degreeOf(steps []int, tonic, key int) int {
	for i, s := range steps {
		if hand.Class(tonic+s) == hand.Class(key) {
			return i
		}
	}
	return -1
}

// fits reports whether the run goes through all members of the scale or chord in turn.
func (m *Model) fits(steps []int, tonic, from, to int) bool {
	n := len(steps)
	for e := from; e <= to; e++ {
		d := degreeOf(steps, tonic, m.keyAt(e))
		if d < 0 {
			return false
		}
		if e > from {
			was := degreeOf(steps, tonic, m.keyAt(e-1))
			up := m.keyAt(e) > m.keyAt(e-1)
			if up && d != (was+1)%n || !up && was != (d+1)%n {
				return false
			}
		}
	}
	return true
}

// scaleOf finds the scale a run belongs to: of those that fit, the one with most keys around in it, then one whose
// tonic ends the run, then the first by kind and tonic.
func (m *Model) scaleOf(from, to int) (kind, tonic int, ok bool) {
	best := -1
	for k := range scaleSteps {
		for t := range 12 {
			if !m.fits(scaleSteps[k][:], t, from, to) {
				continue
			}
			score := 0
			for e := max(from-24, 0); e <= min(to+24, len(m.line.Events)-1); e++ {
				if degreeOf(scaleSteps[k][:], t, m.keyAt(e)) >= 0 {
					score += 2
				}
			}
			if hand.Class(m.keyAt(from)) == t {
				score += 5
			}
			if hand.Class(m.keyAt(to)) == t {
				score += 5
			}
			if score > best {
				best, kind, tonic, ok = score, k, t, true
			}
		}
	}
	return kind, tonic, ok
}

func (m *Model) reward(from, to int, t Term, value int64, digit func(e int) fingering.Finger) {
	m.runs = append(m.runs, [2]int{from, to})
	price := fixed(int64(m.pricer.terms[t]) * value)
	for e := from; e <= to; e++ {
		if (e == from || e == to) && !m.turnsOnBlack(e) {
			continue
		}
		k := m.line.Events[e].Keys[m.low[e]]
		m.bonus[k.Strike][digit(e)-1] += price
	}
}

// turnsOnBlack reports whether single keys turn back at a black key of event e.
func (m *Model) turnsOnBlack(e int) bool {
	if e < 1 || e+1 >= len(m.line.Events) || m.struck[e-1] != 1 || m.struck[e+1] != 1 || !hand.Black(m.keyAt(e)) {
		return false
	}
	a, b, c := m.keyAt(e-1), m.keyAt(e), m.keyAt(e+1)
	return a < b && b > c || a > b && b < c
}
