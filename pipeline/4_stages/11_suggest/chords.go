package suggest

import (
	"slices"

	"fingerproof/rules/fingering"
)

// What a chord or a double note that comes again may be less likely with the fingers of its other times than with its own, in
// 1/16 of a bit, where the policy asks for as much as it does by default: for each stroke of a row of strokes one at once after
// the other, which is one figure, and for the strokes of one time where it comes again after others. Print keeps the fingers
// in rows of chords and of three strokes and more (5 changes at 73 places of two folds), of double notes struck twice it changes
// one in eight; a double note that comes again nearby is fingered by what stands about it (77 changes at 219 places), a chord
// of more keys is known at few places (2 of 8): 'workbench idioms --fold'.
const (
	rowGives    = 32
	chordGives  = 32 // for each of its keys
	doubleGives = 10
)

// chordWorth is what another finger then costs at each key, in milli-nats.
const chordWorth = 2500

// doubleNear is how long after its last time a double note is taken for the same again, in microseconds; a chord is however
// long after.
const doubleNear = 10_000_000

// chords gives the chords and double notes that come again one fingering where it is likely enough for each time by itself.
// What follows may overrule it: a measure or a figure that comes again has its own.
func (m *memory) chords(lines []*fingering.Line, again [][][]int, percent int, apart func(id int) bool) {
	free := newByNote[fingering.Finger](len(m.at.of))
	for i, line := range lines {
		for _, group := range again[i] {
			keys := len(line.Events[group[0]].Keys)
			var times [][]int
			for from := 0; from < len(group); {
				to := from
				var ids []int
				for ; to < len(group) && group[to]-group[from] == to-from; to++ {
					for _, k := range line.Events[group[to]].Keys {
						ids = append(ids, line.Strikes[k.Strike].IDs[0])
					}
				}
				if !slices.ContainsFunc(ids, apart) {
					m.inRow(ids, keys, percent, free)
					times = append(times, ids)
				}
				from = to
			}
			limit := int64(chordGives*keys*percent) / 100
			if keys == 2 {
				limit = int64(doubleGives*percent) / 100
			}
			m.alike(times, keys, free, limit, chordWorth)
		}
	}
}

// alike gives times of one thing the fingering that is best for as many of them as take it, those left one of their own, and so
// on; another finger then costs worth at each note.
func (m *memory) alike(times [][]int, keys int, free byNote[fingering.Finger], limit int64, worth int) {
	for len(times) > 1 {
		with, best, left := m.bestFor(times, keys, free, limit)
		if len(with) < 2 {
			return
		}
		for _, t := range with {
			m.remembers(t, best, worth)
		}
		times = left
	}
}

// inRow gives a chord that is struck again at once, and again, one fingering.
func (m *memory) inRow(ids []int, keys, percent int, free byNote[fingering.Finger]) {
	var strokes [][]int
	for from := 0; from < len(ids); from += keys {
		strokes = append(strokes, ids[from:from+keys])
	}
	if len(strokes) < 2 {
		return
	}
	if with, best, _ := m.bestFor(strokes, keys, free, int64(rowGives*len(strokes)*percent)/100); len(with) > 1 {
		for _, t := range with {
			m.remembers(t, best, chordWorth)
		}
	}
}

// chordsAgain lists the events of a line that strike the same keys together, several, and hold none, each group by its first;
// one alone is left out.
func chordsAgain(line *fingering.Line) (out [][]int) {
	type keys [fingering.MaxKeys]int8
	group := map[keys]int{}
	var all [][]int
	for e := range line.Events {
		sounding := line.Events[e].Keys
		if len(sounding) < 2 || line.Events[e].Rank.IsGrace() || slices.ContainsFunc(sounding, func(k fingering.Sounding) bool { return !k.Struck }) {
			continue
		}
		var k keys
		for i, s := range sounding {
			k[i] = s.Key
		}
		g, known := group[k]
		if known {
			last := all[g][len(all[g])-1]
			known = len(sounding) > 2 || line.Events[e].Micros-line.Events[last].Micros < doubleNear
		}
		if !known {
			g = len(all)
			group[k] = g
			all = append(all, nil)
		}
		all[g] = append(all[g], e)
	}
	for _, g := range all {
		if len(g) > 1 {
			out = append(out, g)
		}
	}
	return out
}
