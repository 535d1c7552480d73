package suggestions

import (
	"fmt"
	"strings"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// gripClasses are the classes of grips and of what stands beside them, in the order in which they are printed.
var gripClasses = []string{
	"octaves in a row, outer key white: 5", "octaves in a row, outer key black: 3 or 4",
	"octaves in a row, one white and one black: not 4 on white and 5 on black",
	"octave alone, outer key white: 5", "octave alone, outer key black: 4 or 5",
	"triad, close: 1 and 5 at its ends", "triad, close: fingers as far apart as its keys",
	"triad, close, root: 1 3 5", "triad, close, the fourth at the little finger: 1 2 5 or 1 3 5", "triad, close, the fourth at the thumb: 1 3 5",
	"the same chord again, same measure: alike", "the same chord again, within 8: alike", "the same double note again, same measure: alike",
	"a key beyond the grip after it: not crossed", "a key beyond the grip before it: not crossed",
	"a key a fourth or more beyond the grip after it: 5",
}

// gripsOf counts octaves struck in a row, close triads, chords that come again and keys that lie beyond a grip beside them.
func (l *likeLine) gripsOf() {
	l.octavesInRow()
	l.triads()
	l.chordsAgain()
	l.beyondGrips()
}

// octaveAt gives the outer key of an octave of two keys with nothing held; outer is the one of the little finger.
func (l *likeLine) octaveAt(e int) (outer fingering.Sounding, ok bool) {
	if e < 0 || e >= len(l.line.Events) {
		return outer, false
	}
	keys := l.line.Events[e].Keys
	if len(keys) != 2 || !keys[0].Struck || !keys[1].Struck || keys[1].Key-keys[0].Key != 12 {
		return outer, false
	}
	return keys[1], true
}

func (l *likeLine) octavesInRow() {
	for e := range l.line.Events {
		here, ok := l.octaveAt(e)
		if !ok {
			continue
		}
		before, ok1 := l.octaveAt(e - 1)
		after, ok2 := l.octaveAt(e + 1)
		ok1, ok2 = ok1 && before.Key != here.Key, ok2 && after.Key != here.Key
		black := hand.Black(int(here.Key))
		least, most, name := 5, 5, "octaves in a row, outer key white: 5"
		switch {
		case (ok1 || ok2) && black:
			least, most, name = 3, 4, "octaves in a row, outer key black: 3 or 4"
		case ok1 || ok2:
		case black:
			least, name = 4, "octave alone, outer key black: 4 or 5"
		default:
			name = "octave alone, outer key white: 5"
		}
		l.countPlace(name, e, []int{here.Strike}, func(of []fingering.Finger) bool {
			return int(of[here.Strike]) >= least && int(of[here.Strike]) <= most
		})
		if ok1 && black != hand.Black(int(before.Key)) {
			white, black := before.Strike, here.Strike
			if hand.Black(int(before.Key)) {
				white, black = black, white
			}
			l.countPlace("octaves in a row, one white and one black: not 4 on white and 5 on black", e, []int{white, black},
				func(of []fingering.Finger) bool { return of[white] >= of[black] })
		}
	}
}

// triads counts chords of three keys within a seventh, nothing held.
func (l *likeLine) triads() {
	for e := range l.line.Events {
		k := l.line.Events[e].Keys
		if len(k) != 3 || len(l.struck(e)) != 3 {
			continue
		}
		low, high := int(k[1].Key-k[0].Key), int(k[2].Key-k[1].Key)
		if low < 3 || high < 3 || low+high > 9 || low+high < 6 {
			continue
		}
		strikes := []int{k[0].Strike, k[1].Strike, k[2].Strike}
		is := func(f, g, h fingering.Finger) func(of []fingering.Finger) bool {
			return func(of []fingering.Finger) bool {
				return of[strikes[0]] == f && of[strikes[1]] == g && of[strikes[2]] == h
			}
		}
		l.countPlace("triad, close: 1 and 5 at its ends", e, []int{strikes[0], strikes[2]},
			func(of []fingering.Finger) bool { return of[strikes[0]] == 1 && of[strikes[2]] == 5 })
		l.countPlace("triad, close: fingers as far apart as its keys", e, strikes, func(of []fingering.Finger) bool {
			a, b := of[strikes[1]]-of[strikes[0]], of[strikes[2]]-of[strikes[1]]
			return !(low > high && a < b || low < high && a > b)
		})
		switch {
		case low <= 4 && high <= 4:
			l.countPlace("triad, close, root: 1 3 5", e, strikes, is(1, 3, 5))
		case high == 5 || high == 6:
			l.countPlace("triad, close, the fourth at the little finger: 1 2 5 or 1 3 5", e, strikes, func(of []fingering.Finger) bool {
				return is(1, 2, 5)(of) || is(1, 3, 5)(of)
			})
		default:
			l.countPlace("triad, close, the fourth at the thumb: 1 3 5", e, strikes, is(1, 3, 5))
		}
		if l.show == "shapes" {
			out := fmt.Sprintf("shape %d %d %v: ", low, high, l.line.Hand)
			for _, s := range strikes {
				out += fmt.Sprint(l.ours[s])
			}
			out += " ("
			for _, s := range strikes {
				out += fmt.Sprint(l.print[s])
			}
			l.counts.shown = append(l.counts.shown, out+")")
		}
	}
}

// chordsAgain counts chords that come again on the same keys, with nothing held.
func (l *likeLine) chordsAgain() {
	last := map[string]int{}
	for e := range l.line.Events {
		keys := l.struck(e)
		if len(keys) < 2 || len(l.line.Events[e].Keys) != len(keys) || l.measure[e] < 0 {
			continue
		}
		word := ""
		for _, k := range keys {
			word += fmt.Sprint(k.Key, " ")
		}
		before, met := last[word]
		last[word] = e
		apart := 0
		if met {
			apart = l.measure[e] - l.measure[before]
		}
		if !met || apart > nearMeasures || len(keys) == 2 && apart > 0 {
			continue
		}
		name := "the same chord again, " + nearnessOf(apart) + "alike"
		name = strings.Replace(name, ", alike", ": alike", 1)
		if len(keys) == 2 {
			name = "the same double note again, same measure: alike"
		}
		var strikes []int
		old := l.struck(before)
		for i := range keys {
			strikes = append(strikes, old[i].Strike, keys[i].Strike)
		}
		l.countPlace(name, e, strikes, func(of []fingering.Finger) bool {
			for i := 0; i < len(strikes); i += 2 {
				if of[strikes[i]] != of[strikes[i+1]] {
					return false
				}
			}
			return true
		})
	}
}

// beyondGrips counts single keys beside a grip and beyond its outermost key on the side of the little finger: the finger on
// them is no nearer to the thumb than the outermost of the grip.
func (l *likeLine) beyondGrips() {
	for e := range l.line.Events {
		key, ok := l.single(e)
		if !ok || len(l.line.Events[e].Keys) != 1 {
			continue
		}
		for _, side := range []int{1, -1} {
			if e+side < 0 || e+side >= len(l.line.Events) {
				continue
			}
			grip := l.struck(e + side)
			if len(grip) < 2 || l.measure[e] != l.measure[e+side] {
				continue
			}
			outer := grip[len(grip)-1]
			if key.Key-outer.Key < 3 {
				continue
			}
			name := map[int]string{1: "a key beyond the grip after it: not crossed", -1: "a key beyond the grip before it: not crossed"}[side]
			l.countPlace(name, e, []int{key.Strike, outer.Strike}, func(of []fingering.Finger) bool { return of[key.Strike] >= of[outer.Strike] })
			if side == 1 && key.Key-outer.Key >= 5 {
				l.countPlace("a key a fourth or more beyond the grip after it: 5", e, []int{key.Strike}, func(of []fingering.Finger) bool { return of[key.Strike] == 5 })
			}
		}
	}
}
