package align

// leastPickup is the least difference of length, in ticks, that looks like a
// pickup and not like rounding.
const leastPickup = ticksPerQuarter / 16

// likeness compares the music of two runs of measures: 0 (nothing in common)
// to 1000 (the same notes at the same times). It hears four things, so that no
// single habit of an exporter hides a measure: keys at their times (half of
// the weight), the keys whatever their times, note names at their times
// whatever the octave, and the bare times. Two runs of rests are alike.
//
// Where the lengths differ it also tries the runs flush right, as pickups
// are written, and returns the shift in ticks that fits better.
func (m *matcher) likeness(a, b Range) (likeness int, shift int64) {
	x, y := m.a.run(a), m.b.run(b)
	if len(x) == 0 && len(y) == 0 {
		return 1000, 0
	}
	if len(x) == 0 || len(y) == 0 {
		return 0, 0
	}
	if a.Len() == 1 && b.Len() == 1 && m.a.measures[a.From].exact == m.b.measures[b.From].exact {
		return 1000, 0
	}
	keys := commonKeys(x, y)
	likeness = m.weigh(x, y, 0, keys)
	if by := m.b.length(b) - m.a.length(a); by > leastPickup || by < -leastPickup {
		if l := m.weigh(x, y, by, keys); l > likeness {
			return l, by
		}
	}
	if 2*keys*10 >= 9*(len(x)+len(y)) {
		// The same keys throughout, whatever became of their times.
		likeness = max(likeness, sameKeysLikeness)
	}
	return likeness, 0
}

// sameKeysLikeness is the least likeness of measures nine tenths of whose keys
// are the same.
const sameKeysLikeness = 400

func (m *matcher) weigh(x, y []item, shift int64, keys int) int {
	var exact, names, times int
	i, j := 0, 0
	onsetsX, onsetsY := onsets(x), onsets(y)
	for i < len(x) && j < len(y) {
		tx, ty := x[i].tick+shift, y[j].tick
		switch {
		case tx < ty-tolerance:
			i++
		case tx > ty+tolerance:
			j++
		default:
			endX, endY := i, j
			for endX < len(x) && x[endX].tick == x[i].tick {
				endX++
			}
			for endY < len(y) && y[endY].tick == y[j].tick {
				endY++
			}
			times++
			e, n := commonChord(x[i:endX], y[j:endY])
			exact += e
			names += n
			i, j = endX, endY
		}
	}
	all := len(x) + len(y)
	return (500*2*exact+200*2*keys+200*2*names)/all + 100*2*times/(onsetsX+onsetsY)
}

func onsets(x []item) int {
	n := 0
	for i := range x {
		if i == 0 || x[i].tick != x[i-1].tick {
			n++
		}
	}
	return n
}

// commonChord counts the keys, and the note names, two chords have in common.
func commonChord(x, y []item) (keys, names int) {
	var namesX, namesY [12]int
	i, j := 0, 0
	for i < len(x) && j < len(y) { // each sorted by pitch, but for grace notes
		switch {
		case x[i].midi < y[j].midi:
			i++
		case x[i].midi > y[j].midi:
			j++
		default:
			keys++
			i++
			j++
		}
	}
	for _, it := range x {
		namesX[noteName(it.midi)]++
	}
	for _, it := range y {
		namesY[noteName(it.midi)]++
	}
	for k := range namesX {
		names += min(namesX[k], namesY[k])
	}
	return keys, names
}

func noteName(midi int16) int { return int((midi%12 + 12) % 12) }

// commonKeys counts the keys two runs have in common, whatever their times.
func commonKeys(x, y []item) int {
	var countX, countY [128]uint16
	for _, it := range x {
		countX[it.midi&127]++
	}
	for _, it := range y {
		countY[it.midi&127]++
	}
	n := 0
	for k := range countX {
		n += int(min(countX[k], countY[k]))
	}
	return n
}

// rebarred reports whether two runs may be the same music with other
// barlines: as long as each other, and with no barline in common (or the
// pair would fall apart into two).
func (m *matcher) rebarred(a, b Range) bool {
	d := m.a.length(a) - m.b.length(b)
	if d > tolerance || d < -tolerance {
		return false
	}
	for i := a.From + 1; i < a.To; i++ {
		for j := b.From + 1; j < b.To; j++ {
			if m.a.start[i]-m.a.start[a.From] == m.b.start[j]-m.b.start[b.From] {
				return false
			}
		}
	}
	return true
}
