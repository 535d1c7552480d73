package edition

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/rules/hand"
	"fingerproof/rules/places"
)

// never counts in printed pages what no editor would do. It looks at the page alone, not at how it was made.
type never struct {
	leaps, landings  int // leaps of more than an octave, and those whose landing shows no digit
	turns, holes     int // turns of runs with digits on both sides, and those without a digit
	fives            int // a key that shows the same digit five times or more in a measure
	chords, unclear  int // chords of one voice with digits, and those whose digits do not say which keys they mean
	figures, uneven  int // statements of figures, and those with digits that are neither none nor the same
	moves, unshown   int // moves of the hand between digits, and those without a digit (lint's digit-missing)
	exercises, odd   int // statements of figures that go on by steps with the same fingers, and those as uneven
	changes, silent  int // keys struck again at once by another finger, and those whose second digit is missing
	staleLeaps       int // leaps without a digit that were not taken within eight measures before
	goingOn          int // of these, such as a figure has that goes on on other keys with the same fingers
	landedSo         int // of the others, on keys on which the hand landed within eight measures the same way, with the same fingers
	toldSo           int // of the others, such as the preface tells, with the fingers of a leap the same way within eight measures
	octaves          int // of the others, octaves of white keys by 1 and 5
	again, unlike    int // measures that come again to the last key and finger, and those whose digits, but for the first event, are neither none nor the same
	near, unlikeNear int // likewise those within 24 measures of the first, with their first events
	fours            int // a key that shows the same digit four times or more in a measure
	nested           int // of uneven statements, those in which a shorter figure comes again as well, or which begin before the figure
}

// add looks at what is printed of a fingered piece, in a hand.
func (c *never) add(in *thin.Fingered, printed []bool) {
	shows := func(i int) bool { return printed[i] || in.Stands[i] }
	for l := range in.Playing.Lines {
		v := &printedLine{events: places.Events(in.Score, &in.Playing.Lines[l], in.Finger), score: in.Score, shows: shows}
		c.addLine(v, in.Profile)
		c.addMeasures(v)
	}
}

// addMeasures looks at the measures of a hand that come again with the same keys, times and fingers, each beside the first of them.
func (c *never) addMeasures(p *printedLine) {
	first := map[string]int{}
	for from := 0; from < len(p.events); {
		to, name := from, ""
		for to < len(p.events) && p.events[to].Measure == p.events[from].Measure {
			e := &p.events[to]
			name += fmt.Sprint(p.score.Notes[e.Notes[0]].Onset, e.Keys, e.Fingers)
			to++
		}
		if at, some := first[name]; !some {
			first[name] = from
		} else if to-from > 1 {
			c.again++
			none, same := true, true
			for k := from + 1; k < to; k++ {
				for j, i := range p.events[k].Notes {
					none = none && !p.shows(i)
					same = same && p.shows(i) == p.shows(p.events[at+k-from].Notes[j])
				}
			}
			if !none && !same {
				c.unlike++
			}
			if p.events[from].Measure-p.events[at].Measure <= 24 {
				c.near++
				if (!none || p.digits(from) > 0) && !(same && p.digits(from) == p.digits(at)) {
					c.unlikeNear++
				}
			}
		}
		from = to
	}
}

// printedLine is the line of a hand as it is printed.
type printedLine struct {
	events []places.Event
	score  *score.Score
	shows  func(note int) bool
}

// digits says how many digits an event shows.
func (p *printedLine) digits(e int) (n int) {
	if e < 0 || e >= len(p.events) {
		return 0
	}
	for _, i := range p.events[e].Notes {
		if p.shows(i) {
			n++
		}
	}
	return n
}

// some says that an event from one to another shows a digit.
func (p *printedLine) some(from, to int) bool {
	for e := from; e <= to; e++ {
		if p.digits(e) > 0 {
			return true
		}
	}
	return false
}

func (c *never) addLine(p *printedLine, profile hand.Profile) {
	type shown struct{ measure, key, finger int }
	times, leaps := map[shown]int{}, newLeaps()
	copies, also, preface := places.Figures(p.events), places.Copies(p.events), places.NewPreface(p.events)
	for e := range p.events {
		now := &p.events[e]
		if len(now.Keys) == 1 && p.digits(e) > 0 {
			s := shown{now.Measure, now.Keys[0], now.Fingers[0]}
			switch times[s]++; times[s] {
			case 4:
				c.fours++
			case 5:
				c.fives++
			}
		}
		c.addChord(p, e)
		if e == 0 {
			continue
		}
		before := &p.events[e-1]
		if leap, fresh := leaps.next(p, e); leap {
			c.leaps++
			if p.digits(e) == 0 {
				c.landings++
				if fresh {
					c.staleLeaps++
					if at := preface.Last(e); at >= 0 && now.Measure-p.events[at].Measure <= 8 {
						c.goingOn++
					} else if p.landedSo(e, true) {
						c.landedSo++
					} else if p.landedSo(e, false) && told(preface, p.events, e) {
						c.toldSo++
					} else if len(now.Keys) == 2 && now.Keys[1]-now.Keys[0] == 12 && !hand.Black(now.Keys[0]) && now.Fingers[1] == 5 {
						c.octaves++
					}
				}
			}
		}
		if p.turn(e) && p.some(e-4, e-1) && p.some(e+1, e+4) {
			c.turns++
			if p.digits(e) == 0 {
				c.holes++
			}
		}
		if p.moves(e, profile) && !p.opens(e) && p.some(e-4, e) && p.some(e-1, e+4) {
			c.moves++
			if !p.some(e-1, e) {
				c.unshown++
			}
		}
		if n := e - copies[e]; copies[e] >= 0 && (e+1 == len(p.events) || copies[e+1] != e+1-n) {
			c.addFigure(p, copies, e, n)
		} else if n := e - also[e]; also[e] >= 0 && copies[e] < 0 && (e+1 == len(p.events) || also[e+1] != e+1-n) {
			c.addExercise(p, also, e, n)
		}
		if len(now.Keys) == 1 && len(before.Keys) == 1 && now.Keys[0] == before.Keys[0] &&
			now.Fingers[0] != before.Fingers[0] && now.At-before.End <= 4*24 && also[e] < 0 && preface.From(e) < 0 {
			c.changes++
			if p.digits(e) == 0 {
				c.silent++
			}
		}
	}
}

// landedSo says that the hand landed by a leap the same way, with the same fingers, within eight measures: on the keys of an event, or
// on any.
func (p *printedLine) landedSo(e int, there bool) bool {
	now := &p.events[e]
	up := now.Keys[0] > p.events[e-1].Keys[0]
	for at := e - 1; at > 0 && now.Measure-p.events[at].Measure <= 8; at-- {
		was, from := &p.events[at], &p.events[at-1]
		if (!there || slices.Equal(was.Keys, now.Keys)) && slices.Equal(was.Fingers, now.Fingers) && nearest(from.Keys, was.Keys) > 12 &&
			up == (was.Keys[0] > from.Keys[0]) {
			return true
		}
	}
	return false
}

// addChord looks whether the digits of each voice of a chord say which keys they mean: a lone digit the outermost, two
// the outermost two.
func (c *never) addChord(p *printedLine, e int) {
	order, voices := p.voices(e)
	for _, v := range order {
		keys := voices[v]
		shows := func(k int) bool { return p.shows(p.events[e].Notes[keys[k]]) }
		n := 0
		for k := range keys {
			n += map[bool]int{true: 1}[shows(k)]
		}
		if len(keys) == 1 || n == 0 {
			continue
		}
		c.chords++
		last := len(keys) - 1
		switch {
		case n == len(keys), n == 1 && shows(last), n == 2 && shows(0) && shows(last):
		default:
			c.unclear++
		}
	}
}

// voices gives the places of an event's keys by voice, and the voices in their order.
func (p *printedLine) voices(e int) (order []string, places map[string][]int) {
	places = map[string][]int{}
	for k, i := range p.events[e].Notes {
		n := &p.score.Notes[i]
		v := fmt.Sprint(n.Part, n.Staff, n.Voice)
		if _, known := places[v]; !known {
			order = append(order, v)
		}
		places[v] = append(places[v], k)
	}
	return order, places
}

// addFigure looks at the last statements of a figure of n events that ends at an event: their digits, but for those of
// the first event, are none or those of the statement before.
func (c *never) addFigure(p *printedLine, copies []int, e, n int) {
	if n < 2 || e-2*n+1 < 0 {
		return
	}
	c.figures++
	none, same := true, true
	for k := e - n + 2; k <= e; k++ {
		none = none && p.digits(k) == 0
		same = same && p.digits(k) == p.digits(k-n)
	}
	if none || same {
		return
	}
	c.uneven++
	for k := e - n + 1; k <= e; k++ {
		if copies[k] != k-n {
			c.nested++
			break
		}
	}
}

// addExercise looks at every statement from the fourth on of a figure of n events that goes on up to an event: the first two may
// have all digits, and where in the figure a statement begins is not told here.
func (c *never) addExercise(p *printedLine, copies []int, e, n int) {
	for end := e; end-4*n+1 >= 0 && copies[end] == end-n && copies[end-n+1] == end-2*n+1 && copies[end-2*n] == end-3*n; end -= n {
		c.exercises++
		none, same := true, true
		for k := end - n + 2; k <= end; k++ {
			none, same = none && p.digits(k) == 0, same && p.digits(k) == p.digits(k-n)
		}
		if !none && !same {
			c.odd++
		}
	}
}

// turn says that three steps of at most a tone lead to an event in one direction, and three away in the other.
func (p *printedLine) turn(e int) bool {
	if e < 3 || e+3 >= len(p.events) {
		return false
	}
	way := ""
	for i := e - 2; i <= e+3; i++ {
		a, b := &p.events[i-1], &p.events[i]
		if len(a.Keys) != 1 || len(b.Keys) != 1 {
			return false
		}
		switch d := b.Keys[0] - a.Keys[0]; {
		case d == 1 || d == 2:
			way += "u"
		case d == -1 || d == -2:
			way += "d"
		}
	}
	return way == "uuuddd" || way == "ddduuu"
}

// moves says that between two single notes the thumb passes, a finger passes over, or the hand shifts.
func (p *printedLine) moves(e int, profile hand.Profile) bool {
	a, b := &p.events[e-1], &p.events[e]
	if len(a.Keys) != 1 || len(b.Keys) != 1 || a.Keys[0] == b.Keys[0] {
		return false
	}
	f, g := a.Fingers[0], b.Fingers[0]
	return f == g || (a.Keys[0] < b.Keys[0]) != (f < g) ||
		profile.Excess(f, g, hand.Distance(a.Keys[0], b.Keys[0])) > 0
}

// opens says that the outermost finger takes a note beyond the others, which digit-missing leaves alone.
func (p *printedLine) opens(e int) bool {
	a, b := &p.events[e-1], &p.events[e]
	f, g := a.Fingers[0], b.Fingers[0]
	return a.Keys[0] < b.Keys[0] && f < g && g == 5 || a.Keys[0] > b.Keys[0] && f > g && g == 1
}

// nearest is how many semitones the nearest keys of two grips lie apart.
func nearest(a, b []int) int {
	least := 1 << 10
	for _, x := range a {
		for _, y := range b {
			least = min(least, max(x-y, y-x))
		}
	}
	return least
}

func (c *never) String() string {
	return strings.Join([]string{
		fmt.Sprintf("leaps without a landing digit %d of %d (%d not taken alike within eight measures, of these %d as a figure that goes on, "+
			"%d on keys where the hand landed so from elsewhere, %d told by the preface with the fingers of the last such leap, "+
			"%d octaves of white keys by 1 and 5)", c.landings, c.leaps, c.staleLeaps, c.goingOn, c.landedSo, c.toldSo, c.octaves),
		fmt.Sprintf("runs with a hole at the turn %d of %d", c.holes, c.turns),
		fmt.Sprintf("the same digit four times on a key in a measure %d, five times %d", c.fours, c.fives),
		fmt.Sprintf("measures that come again with digits neither as the first nor none %d of %d, with the first event and within 24 measures %d of %d",
			c.unlike, c.again, c.unlikeNear, c.near),
		fmt.Sprintf("chords whose digits do not say which keys %d of %d", c.unclear, c.chords),
		fmt.Sprintf("figures neither as before nor bare %d of %d (%d of these about shorter figures)", c.uneven, c.figures, c.nested),
		fmt.Sprintf("exercises' figures neither as before nor bare %d of %d", c.odd, c.exercises),
		fmt.Sprintf("other fingers on a key struck again without a digit %d of %d", c.silent, c.changes),
		fmt.Sprintf("moves between digits that no digit shows %d of %d", c.unshown, c.moves),
	}, "; ")
}
