package suggest

import (
	"slices"

	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

// Keys struck again on which the hand stays.

// fastOfRepeat is how much of the time in which one finger repeats a key with ease it still takes, in percent, where the text
// says nothing of a change.
const fastOfRepeat = 67

// staysWorth is what another finger costs, in milli-nats, on a key struck again that the text leaves bare behind its digit.
const staysWorth = 6000

// unisonGives is what keeping the finger on a key struck again may be less likely than changing it, in 1/16 of a bit, where the
// other hand strikes the same key an octave off and keeps its own; unisonWorth what another finger then costs, in milli-nats.
const (
	unisonGives = 64
	unisonWorth = 2500
)

// stays keeps the finger of a digit of the text on its key where it is struck again at once and bare: print has a digit at a key
// struck again where the finger changes, and leaves it out where the hand stays (common practice, no source). What is as fast as
// one finger repeats at best is left alone.
func (m *memory) stays(line *fingering.Line, repeat int64, printed, apart func(id int) bool) {
	for e := 1; e < len(line.Events); e++ {
		a, b, ok := struckTwice(line, e)
		if !ok || line.Events[e].Rank != playing.OnOnset || repeatsBelow(line, e, repeat*fastOfRepeat/100) {
			continue
		}
		before, here := m.at.at(a), m.at.at(b)
		if before == nil || here == nil || here.Allowed != 0 || apart(b) || !(printed(a) && given(before) || m.stay.at(a)) {
			continue
		}
		f := only(before.Allowed)
		if f == 0 {
			f = before.Remembered
		}
		m.staysOn(b, f, staysWorth)
	}
}

// repeatsBelow says that the key of an event is struck in less time somewhere in its row.
func repeatsBelow(line *fingering.Line, e int, micros int64) bool {
	from, to := e, e
	for again := true; again && from > 0; {
		if _, _, again = struckTwice(line, from); again {
			from--
		}
	}
	for again := true; again && to+1 < len(line.Events); {
		if _, _, again = struckTwice(line, to+1); again {
			to++
		}
	}
	for i := from + 1; i <= to; i++ {
		if line.Events[i].Micros-line.Events[i-1].Micros < micros {
			return true
		}
	}
	return false
}

// struckTwice gives the notes of a key that is struck alone at an event and was so at the event before.
func struckTwice(line *fingering.Line, e int) (a, b int, ok bool) {
	x, ok1 := parallel.Single(line, e-1)
	y, ok2 := parallel.Single(line, e)
	if !ok1 || !ok2 || line.Strikes[x].Key != line.Strikes[y].Key || line.Strikes[y].Turn || line.Strikes[x].Then != 0 {
		return 0, 0, false
	}
	return line.Strikes[x].IDs[0], line.Strikes[y].IDs[0], true
}

// unison is a key that a hand strikes again, and the same key, octaves off, that the other one strikes again with it.
type unison struct{ own, other [2]int }

// unisonsOf finds those of the hands of each player.
func (m *memory) unisonsOf(lines []*fingering.Line) (out []unison) {
	for i, a := range lines {
		for j, b := range lines {
			if i != j && m.lines[i].Player == m.lines[j].Player && a.Hand != b.Hand {
				out = m.unisonsBeside(a, b, out)
			}
		}
	}
	return out
}

func (m *memory) unisonsBeside(line, other *fingering.Line, out []unison) []unison {
	o := 0
	for e := 1; e < len(line.Events); e++ {
		a, b, ok := struckTwice(line, e)
		if !ok {
			continue
		}
		for o < len(other.Events) && other.Events[o].Onset.Compare(line.Events[e].Onset) < 0 {
			o++
		}
		if o == 0 || o == len(other.Events) || other.Events[o].Onset != line.Events[e].Onset || other.Events[o-1].Onset != line.Events[e-1].Onset {
			continue
		}
		if c, d, ok := struckTwice(other, o); ok && (m.at.at(a).Key-m.at.at(c).Key)%12 == 0 {
			out = append(out, unison{[2]int{a, b}, [2]int{c, d}})
		}
	}
	return out
}

// unisons lets a hand keep its finger on a key struck again where the other hand strikes the same key with it, octaves off, and
// keeps its own: two hands that do the same are remembered as one.
func (m *memory) unisons(all []unison, percent int, apart func(id int) bool) {
	free := newByNote[fingering.Finger](len(m.at.of))
	for _, u := range all {
		first, again := m.finger.at(u.own[0]), m.finger.at(u.own[1])
		if first == again || m.finger.at(u.other[0]) != m.finger.at(u.other[1]) || slices.ContainsFunc(u.own[:], apart) {
			continue
		}
		ways := [][]fingering.Finger{{first, first}, {again, again}}
		if best, less := m.likeliest(u.own[:], ways, free); best != nil && less <= int64(unisonGives*percent)/100 {
			m.remembers(u.own[:], best, unisonWorth)
		}
	}
}
