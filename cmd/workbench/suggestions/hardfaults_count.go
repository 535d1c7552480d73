package suggestions

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// faultLine is the music of one hand in which hard faults are counted.
type faultLine struct {
	*likeLine
	asked  map[int]bool // notes that a passage asks about
	faults *faultCounts
}

// fault counts a place at which strikes may be a fault; bad says whether they are, by their fingers.
func (l *faultLine) fault(class string, e int, strikes []int, bad func(of []fingering.Finger) bool) {
	n := l.faults.at(class)
	given, printed, certain := false, true, true
	for _, s := range strikes {
		given = given || l.given[s]
		printed = printed && l.print[s] > 0
		for _, id := range l.line.Strikes[s].IDs {
			certain = certain && !l.asked[id]
		}
	}
	ours := bad(l.ours)
	switch {
	case ours && given:
		n.forced++
	case ours:
		n.ours++
		if certain {
			n.certain++
		}
	}
	if printed {
		n.printed++
		if bad(l.print) {
			n.inPrint++
		}
		if ours {
			n.oursThere++
		}
	}
	if ours && !given && l.show != "" && strings.HasPrefix(class, l.show) {
		l.tellFault(e, strikes, certain)
	}
}

func (l *faultLine) tellFault(e int, strikes []int, certain bool) {
	out := fmt.Sprintf("%s, m. %s:", l.name, l.w.Score.Measures[max(l.measure[e], 0)].Number)
	for _, s := range strikes {
		out += fmt.Sprintf(" %s=%d", keyName(l.line.Hand.Mirror(int(l.line.Strikes[s].Key))), l.ours[s])
		if l.print[s] > 0 {
			out += fmt.Sprintf("(%d)", l.print[s])
		}
	}
	if certain {
		out += " (without doubt)"
	}
	l.faults.shown = append(l.faults.shown, out)
}

func (l *faultLine) countFaults() {
	for e := range l.line.Events {
		l.ofStep(e)
		l.ofChange(e)
		l.ofComingBack(e)
	}
	l.ofGrips()
	l.ofMeasures()
}

// quickly is the time, in microseconds, in which a hand that crosses its fingers has gone nowhere else.
const quickly = 500_000

// ofStep counts faults of two single keys in a row, the first held up to the second.
func (l *faultLine) ofStep(e int) {
	a, ok1 := l.single(e - 1)
	b, ok2 := l.single(e)
	if !ok1 || !ok2 || a.Key == b.Key || len(l.line.Events[e-1].Keys) != 1 || len(l.line.Events[e].Keys) != 1 {
		return
	}
	gap := l.line.Events[e].Micros - l.line.Events[e-1].Micros
	first := &l.line.Strikes[a.Strike]
	if first.End.Compare(l.line.Events[e].Onset) < 0 || gap <= 0 || gap > quickly {
		return
	}
	far := int(max(a.Key-b.Key, b.Key-a.Key))
	up := b.Key > a.Key
	strikes := []int{a.Strike, b.Strike}
	if !(hand.Black(int(a.Key)) && !hand.Black(int(b.Key)) && far <= 2) {
		how := ""
		if first.Slurred {
			how = ", under a slur"
		}
		l.fault("a thumb twice, joined"+how, e, strikes, func(of []fingering.Finger) bool { return of[a.Strike] == 1 && of[b.Strike] == 1 })
		l.fault("2 to 5 twice, joined"+how, e, strikes, func(of []fingering.Finger) bool {
			return of[a.Strike] > 1 && of[a.Strike] == of[b.Strike]
		})
	}
	crossed := func(f, g fingering.Finger) bool { return f > 0 && g > 0 && f != g && (f < g) != up }
	l.fault("crossed without the thumb", e, strikes, func(of []fingering.Finger) bool {
		f, g := of[a.Strike], of[b.Strike]
		if !crossed(f, g) || min(f, g) == 1 {
			return false
		}
		long, short := a, b
		if f > g {
			long, short = b, a
		}
		return min(f, g) == 2 || far > 2 || !hand.Black(int(long.Key)) || hand.Black(int(short.Key))
	})
	if far <= 2 {
		inOrder := func(of []fingering.Finger, low, high fingering.Finger) bool {
			f, g := of[a.Strike], of[b.Strike]
			return !crossed(f, g) && min(f, g) == low && max(f, g) == high
		}
		l.fault("1 and 5 on a step", e, strikes, func(of []fingering.Finger) bool { return inOrder(of, 1, 5) })
		l.fault("2 and 5 on a step", e, strikes, func(of []fingering.Finger) bool { return inOrder(of, 2, 5) })
		l.fault("1 and 4 on a step", e, strikes, func(of []fingering.Finger) bool { return inOrder(of, 1, 4) })
	} else {
		l.fault("crossed over the thumb beyond a fourth", e, strikes, func(of []fingering.Finger) bool {
			return far > 5 && crossed(of[a.Strike], of[b.Strike]) && min(of[a.Strike], of[b.Strike]) == 1
		})
		l.fault("neighbours, the thumb left out, a fifth apart or more", e, strikes, func(of []fingering.Finger) bool {
			f, g := of[a.Strike], of[b.Strike]
			return far > 6 && !crossed(f, g) && min(f, g) > 1 && max(f, g)-min(f, g) == 1
		})
	}
}

// ofChange counts silent changes of finger on short notes, and to the finger that the next stroke of the hand has on another key. What
// print does is not known here.
func (l *faultLine) ofChange(e int) {
	for _, k := range l.struck(e) {
		s := &l.line.Strikes[k.Strike]
		id := s.IDs[0]
		if id >= len(l.w.Suggestion.Notes) || s.Then != 0 || l.w.Suggestion.Notes[id].Substitution == 0 {
			continue
		}
		to := l.w.Suggestion.Notes[id].Substitution
		strikes := []int{k.Strike}
		long := score.Frac(s.End.Num, s.End.Den).Sub(score.Frac(l.line.Events[e].Onset.Num, l.line.Events[e].Onset.Den))
		l.fault("a silent change on less than an eighth", e, strikes, func([]fingering.Finger) bool { return long.Cmp(score.Frac(1, 2)) < 0 })
		wanted := false
		if e+1 < len(l.line.Events) {
			for _, next := range l.struck(e + 1) {
				wanted = wanted || l.ours[next.Strike] == to && next.Key != k.Key
			}
		}
		l.fault("a silent change to the finger of the next key", e, strikes, func([]fingering.Finger) bool { return wanted })
	}
}

// ofComingBack counts a single key that comes back in its measure after one other single key with another finger.
func (l *faultLine) ofComingBack(e int) {
	a, ok1 := l.single(e - 2)
	b, ok2 := l.single(e - 1)
	c, ok3 := l.single(e)
	if !ok1 || !ok2 || !ok3 || a.Key != c.Key || a.Key == b.Key || l.measure[e] != l.measure[e-2] || l.measure[e] < 0 ||
		l.line.Strikes[b.Strike].Turn {
		return
	}
	class := "a key back after one other, otherwise"
	if b.Key-a.Key > 2 || a.Key-b.Key > 2 {
		class = "a key back after one other, a third away or more, otherwise"
	}
	l.fault(class, e, []int{a.Strike, b.Strike, c.Strike}, func(of []fingering.Finger) bool { return of[a.Strike] != of[c.Strike] })
}

// ofGrips counts grips that come again in their measure with other fingers.
func (l *faultLine) ofGrips() {
	last := map[string]int{}
	measure := -1
	for e := range l.line.Events {
		keys := l.struck(e)
		if l.measure[e] != measure {
			measure = l.measure[e]
			clear(last)
		}
		if len(keys) < 2 || len(keys) != len(l.line.Events[e].Keys) || measure < 0 {
			continue
		}
		word := ""
		for _, k := range keys {
			word += fmt.Sprint(k.Key, " ")
		}
		if before, met := last[word]; met {
			strikes := []int{}
			for i, k := range l.struck(before) {
				strikes = append(strikes, k.Strike, keys[i].Strike)
			}
			l.fault("a grip again in its measure, otherwise", e, strikes, func(of []fingering.Finger) bool {
				for i := 0; i < len(strikes); i += 2 {
					if of[strikes[i]] != of[strikes[i+1]] {
						return true
					}
				}
				return false
			})
		}
		last[word] = e
	}
}

// ofMeasures counts measures of three strokes and more that are the same as the one before, and fingered otherwise.
func (l *faultLine) ofMeasures() {
	var before cell
	for from := 0; from < len(l.line.Events); {
		to := from + 1
		for to < len(l.line.Events) && l.measure[to] == l.measure[from] {
			to++
		}
		now := cell{from, to, l.measure[from]}
		if now.measure >= 0 && before.to > before.from && now.measure == before.measure+1 && to-from >= 3 && to-from == before.to-before.from &&
			l.shape(now, -1) == l.shape(before, -1) && l.struck(from)[0].Key == l.struck(before.from)[0].Key {
			var strikes []int
			for i := range to - from {
				x, y := l.struck(before.from+i), l.struck(from+i)
				for k := range x {
					strikes = append(strikes, x[k].Strike, y[k].Strike)
				}
			}
			l.fault("a measure the same as the one before, otherwise", from, strikes, func(of []fingering.Finger) bool {
				for i := 0; i < len(strikes); i += 2 {
					if of[strikes[i]] != of[strikes[i+1]] {
						return true
					}
				}
				return false
			})
		}
		before, from = now, to
	}
}
