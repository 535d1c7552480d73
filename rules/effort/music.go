package effort

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// none marks a neighbour that does not exist.
const none = -1

// music is the line as the features see it: for each strike its neighbours in its voice, for each event its outer keys.
type music struct {
	line       *fingering.Line
	prev, next []int32 // strike → the stroke before and after in the same voice
	low, high  []int8  // event → index of its lowest and highest struck key
	struck     []int8  // event → how many keys are struck
	late       []bool  // event → struck late, after keys let go
}

func newMusic(line *fingering.Line) *music {
	n := len(line.Events)
	m := &music{line: line, late: strokesLate(line), low: make([]int8, n), high: make([]int8, n), struck: make([]int8, n),
		prev: make([]int32, len(line.Strikes)), next: make([]int32, len(line.Strikes))}
	for s := range line.Strikes {
		m.prev[s], m.next[s] = none, none
	}
	for e := range line.Events {
		m.low[e] = none
		for i, k := range line.Events[e].Keys {
			if !k.Struck {
				continue
			}
			if m.low[e] == none {
				m.low[e] = int8(i)
			}
			m.high[e] = int8(i)
			m.struck[e]++
		}
	}
	for e := range line.Events {
		for i, k := range line.Events[e].Keys {
			if k.Struck {
				m.prev[k.Strike] = m.neighbour(e, i, e-1)
				m.next[k.Strike] = m.neighbour(e, i, e+1)
			}
		}
	}
	return m
}

// neighbour of key i of event e in event o: outer voices go with outer voices, other keys with the nearest one.
func (m *music) neighbour(e, i, o int) int32 {
	if o < 0 || o >= len(m.line.Events) {
		return none
	}
	keys := m.line.Events[o].Keys
	lowest, highest := i == int(m.low[e]), i == int(m.high[e])
	switch {
	case m.struck[o] == 1 || lowest && !highest:
		return int32(keys[m.low[o]].Strike)
	case highest && !lowest:
		return int32(keys[m.high[o]].Strike)
	}
	k, best := m.line.Events[e].Keys[i].Key, -1
	for j, x := range keys {
		if x.Struck && (best < 0 || abs(int(x.Key)-int(k)) < abs(int(keys[best].Key)-int(k))) {
			best = j
		}
	}
	return int32(keys[best].Strike)
}

func abs(x int) int { return max(x, -x) }

func (m *music) key(s int32) int { return int(m.line.Strikes[s].Key) }

// ranges gives how far the next (or last) four strokes of the voice lie above and below, in hundredths of a millimetre.
func (m *music) ranges(s int32, step []int32) (above, below hand.Length) {
	k := m.key(s)
	for range 4 {
		if s = step[s]; s == none {
			break
		}
		d := hand.Distance(k, m.key(s))
		above, below = max(above, d), max(below, -d)
	}
	return min(above, 16450), min(below, 16450)
}

// linkClass of a transition from key i of event e-1 to key j of event e; ok is false where none is priced: the later
// key must be struck and the earlier one not go on sounding.
func (m *music) linkClass(e, i, j int) (c Class, ok bool) {
	a, b := m.line.Events[e-1].Keys, m.line.Events[e].Keys
	if !b[j].Struck {
		return 0, false
	}
	for _, k := range b {
		if k.Strike == a[i].Strike {
			return 0, false
		}
	}
	switch {
	case a[i].Struck && m.struck[e-1] == 1 && m.struck[e] == 1:
		return SingleLine, true
	case a[i].Struck && (i == int(m.high[e-1]) && j == int(m.high[e]) || i == int(m.low[e-1]) && j == int(m.low[e])):
		return OuterVoice, true
	}
	return InnerVoice, true
}
