package thin

import "fmt"

// Measures of a hand that are the same to the last key and finger print the same digits: a reader lays them side by side. But for its
// first event, which may be reached otherwise, a later one has those of the first, or none.

// evenMeasures sees to it; first with as few digits as the reader needs.
func (p *planner) evenMeasures(spare bool) {
	for _, group := range p.likeMeasures() {
		first := group.from[0]
		for _, at := range group.from[1:] {
			p.evenMeasure(first, at, group.events, spare)
		}
		for _, at := range group.from[1:] { // the first may have got some on the way
			if p.in.Style.EachTime || !p.bareMeasure(at, group.events) {
				p.printMeasure(first, at, group.events)
			}
		}
	}
}

// evenMeasure leaves a later measure bare, or gives both the digits of either.
func (p *planner) evenMeasure(first, at, events int, spare bool) {
	if p.bareMeasure(at, events) && !p.in.Style.EachTime || p.measuresAlike(first, at, events) {
		return
	}
	var was [][]bool
	for e := at + 1; e < at+events && spare; e++ {
		was = append(was, p.only(e, p.places(e), nil))
		p.spare(e)
	}
	if p.bareMeasure(at, events) && !p.in.Style.EachTime || p.measuresAlike(first, at, events) {
		return
	}
	for k := range was { // what stays has to stand in both: then all may
		p.restore(at+1+k, was[k])
	}
	p.printMeasure(at, first, events)
	p.printMeasure(first, at, events)
}

// printMeasure prints in one measure what another has, but for its first event.
func (p *planner) printMeasure(from, to, events int) {
	for k := 1; k < events; k++ {
		p.printLike(from+k, to+k)
	}
}

// bareMeasure says that no digit was printed in a measure after its first event.
func (p *planner) bareMeasure(at, events int) bool {
	for e := at + 1; e < at+events; e++ {
		for _, i := range p.line[e].notes {
			if p.out[i] && !p.in.must(i) {
				return false
			}
		}
	}
	return true
}

// measuresAlike says that two measures have digits at the same keys, but for their first events, and for keys at which the text has some.
func (p *planner) measuresAlike(first, at, events int) bool {
	for k := 1; k < events; k++ {
		for j, i := range p.line[first+k].notes {
			if o := p.line[at+k].notes[j]; p.out[i] != p.out[o] && candidate(p.in, i) && candidate(p.in, o) {
				return false
			}
		}
	}
	return true
}

// sameMeasures are measures of a hand that are alike: the first events of each, in their order, and how many events they have.
type sameMeasures struct {
	from   []int
	events int
}

// likeMeasures finds the measures of several events that come again with the same keys, times and fingers.
func (p *planner) likeMeasures() (out []sameMeasures) {
	known := map[string]int{}
	for from := 0; from < len(p.line); {
		to := from
		name := ""
		for to < len(p.line) && p.line[to].measure == p.line[from].measure {
			e := &p.line[to]
			name += fmt.Sprint(p.in.Score.Notes[e.notes[0]].Onset, e.keys, e.fingers)
			to++
		}
		if to-from > 1 {
			at, some := known[name]
			if !some {
				at = len(out)
				known[name], out = at, append(out, sameMeasures{events: to - from})
			}
			out[at].from = append(out[at].from, from)
		}
		from = to
	}
	return out
}
