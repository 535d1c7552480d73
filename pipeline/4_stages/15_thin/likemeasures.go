package thin

import (
	"fmt"
	"slices"
)

// Measures of a hand that are the same to the last key and finger print the same digits, or the later ones none: a reader lays them side by
// side. Of those with other fingers on the same keys the places are the same. In sparse the later ones have what is needed there. In study
// a later one has its digits again where they stand more than a page before it.

// page is about how many measures stand on a page: six systems of four.
const page = 24

// evenMeasures sees to it; first with as few digits as the reader needs.
func (p *planner) evenMeasures(spare bool) {
	like := p.likeMeasures()
	for k := range like {
		group := &like[k]
		for _, at := range group.from[1:] {
			p.evenMeasure(p.twoMeasures(group.from[0], at, group.events), spare)
		}
		for _, at := range group.from[1:] { // the first may have got some on the way
			two := p.twoMeasures(group.from[0], at, group.events)
			if p.in.Style.EachTime || !p.bareMeasure(two) && !p.fewest() {
				p.printLater(two)
			}
		}
		if p.in.Style.Digits == "study" {
			p.afresh(group)
		}
		if !p.fewest() {
			p.evenVariants(like[:k], group)
		}
	}
}

// twoMeasures are like measures, by the events with which they begin to be compared, and how many of them are.
type twoMeasures struct{ first, later, events int }

// twoMeasures compares like measures from their second events on: the first may be reached otherwise. In study the first is compared as well
// where both lie on one page, as a reader sees both.
func (p *planner) twoMeasures(first, later, events int) twoMeasures {
	if p.in.Style.Digits == "study" && p.line[later].measure-p.line[first].measure <= page {
		return twoMeasures{first, later, events}
	}
	return twoMeasures{first + 1, later + 1, events - 1}
}

// evenMeasure leaves a later measure bare, or gives both the digits of either.
func (p *planner) evenMeasure(two twoMeasures, spare bool) {
	if p.bareMeasure(two) && !p.in.Style.EachTime || p.measuresAlike(two) {
		return
	}
	var was [][]bool
	for k := 0; k < two.events && spare; k++ {
		was = append(was, p.only(two.later+k, p.places(two.later+k), nil))
		p.spare(two.later + k)
	}
	if p.fewest() && !p.in.Style.EachTime || p.bareMeasure(two) && !p.in.Style.EachTime || p.measuresAlike(two) {
		return
	}
	for k := range was { // what stays has to stand in both: then all may
		p.restore(two.later+k, was[k])
	}
	p.printBoth(two)
}

// printBoth gives both measures the digits of either.
func (p *planner) printBoth(two twoMeasures) {
	p.printLater(twoMeasures{two.later, two.first, two.events})
	p.printLater(two)
}

// printLater gives the later of two measures the digits of the first.
func (p *planner) printLater(two twoMeasures) {
	for k := range two.events {
		p.printLike(two.first+k, two.later+k)
	}
}

// afresh prints the digits of like measures again that lie more than a page behind the last that has them.
func (p *planner) afresh(group *sameMeasures) {
	first := group.from[0]
	shown := first
	for _, at := range group.from {
		two := twoMeasures{first, at, group.events}
		if bare := p.bareMeasure(two); bare && p.line[at].measure-p.line[shown].measure <= page {
			continue
		} else if bare {
			p.printLater(two)
		}
		shown = at
	}
}

// evenVariants gives the first of like measures, and the first of those within a page before it that have its keys with other fingers,
// digits at the same places, unless one of them has none.
func (p *planner) evenVariants(before []sameMeasures, group *sameMeasures) {
	at := group.from[0]
	for k := range slices.Backward(before) {
		first := before[k].from[0]
		if before[k].keys != group.keys || p.line[at].measure-p.line[first].measure > page {
			continue
		}
		two := p.twoMeasures(first, at, group.events)
		if !p.bareMeasure(two) && !p.bareMeasure(twoMeasures{two.later, two.first, two.events}) {
			p.printBoth(two)
		}
		return
	}
}

// bareMeasure says that no digit was printed in the later of two measures.
func (p *planner) bareMeasure(two twoMeasures) bool {
	for e := two.later; e < two.later+two.events; e++ {
		for _, i := range p.line[e].notes {
			if p.out[i] && !p.in.must(i) {
				return false
			}
		}
	}
	return true
}

// measuresAlike says that two measures have digits at the same keys, but for keys at which the text has some.
func (p *planner) measuresAlike(two twoMeasures) bool {
	for k := range two.events {
		for j, i := range p.line[two.first+k].notes {
			if o := p.line[two.later+k].notes[j]; p.out[i] != p.out[o] && candidate(p.in, i) && candidate(p.in, o) {
				return false
			}
		}
	}
	return true
}

// sameMeasures are measures of a hand that are alike: the first events of each, in their order, how many events they have, and which
// keys at which times.
type sameMeasures struct {
	from   []int
	events int
	keys   string
}

// likeMeasures finds the measures of several events that come again with the same keys, times and fingers.
func (p *planner) likeMeasures() (out []sameMeasures) {
	known := map[string]int{}
	for from := 0; from < len(p.line); {
		to := from
		keys, fingers := "", ""
		for to < len(p.line) && p.line[to].measure == p.line[from].measure {
			e := &p.line[to]
			keys += fmt.Sprint(p.in.Score.Notes[e.notes[0]].Onset, e.keys)
			fingers += fmt.Sprint(e.fingers)
			to++
		}
		if to-from > 1 {
			at, some := known[keys+fingers]
			if !some {
				at = len(out)
				known[keys+fingers], out = at, append(out, sameMeasures{events: to - from, keys: keys})
			}
			out[at].from = append(out[at].from, from)
		}
		from = to
	}
	return out
}
