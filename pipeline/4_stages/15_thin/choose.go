package thin

import "slices"

// lookBack is how many events before a place that the reader would get wrong are looked through for the place to print.
const lookBack = 8

// later is what a place one event later is worth, in thousandths of a nat: the later a digit, the farther it leads.
const later = 50

// fill prints what the reader needs beside what is printed already. It is one forward pass. The reader's best path to
// each finger of the fingering must be the fingering itself; where for the first time it is not, the digits of an event
// shortly before are printed, and the pass goes on from there: what lies before a fully known event has no say in what
// comes after. So every event is looked at once, and again only since the last such place.
func (p *planner) fill() {
	p.anchors, p.fronts = make([]bool, len(p.line)), make([]front, len(p.line))
	last := -1 // the last fully known event
	fix := func(e int) {
		p.anchors[e] = true
		p.fronts[e].fix(&p.line[e])
		last = e
	}
	for e := 0; e < len(p.line); e++ {
		if !p.pass(e, last) {
			at := p.choose(last+1, e)
			p.printAll(at, Needed)
			fix(at)
			e = at
			continue
		}
		if p.complete(e) {
			fix(e)
		}
	}
	if n := len(p.line) - 1; n >= 0 &&
		!slices.Equal(p.fronts[n].states[p.fronts[n].best()].fingers, p.line[n].fingers) {
		p.printAll(n, Needed)
	}
}

// pass goes to event e and reports whether the reader's path to the fingers there is the fingering. Where the reader
// would not think of these fingers, their digits are printed. Up to the event certain everything is read.
func (p *planner) pass(e, certain int) bool {
	known := p.known(e)
	if e == 0 {
		p.fronts[e] = p.memory.begin(&p.line[e], known)
	} else {
		p.fronts[e] = p.memory.step(p.line, e, &p.fronts[e-1], known, certain)
	}
	f := &p.fronts[e]
	at := f.find(p.line[e].fingers)
	if at < 0 {
		p.printAll(e, Needed)
		return p.pass(e, certain)
	}
	if e == 0 || len(p.fronts[e-1].states) == 1 {
		return true
	}
	return slices.Equal(p.fronts[e-1].states[f.from[at]].fingers, p.line[e-1].fingers)
}

// alike is what a place is worth, in thousandths of a nat, whose twin in a return has a digit.
const alike = 1000

// choose picks the event, from first up to but not including wrong, whose digits are printed: the most wanted, the later
// of two, and the place that its twin in a return has. A copy of a figure is no place, where there is another.
func (p *planner) choose(first, wrong int) int {
	best, most := wrong-1, 0
	for e := wrong - 1; e >= max(first, wrong-lookBack); e-- {
		worth := p.worth(e) - later*(wrong-e)
		if p.returns.alike(&p.line[e]) {
			worth += alike
		}
		if p.spared(e) {
			worth -= 10 * alike
		}
		if e == wrong-1 || worth > most {
			best, most = e, worth
		}
	}
	return best
}

// spared says that an event repeats a figure, and that the house prints the digits of a figure the first time only.
func (p *planner) spared(e int) bool { return p.copies[e] >= 0 && !p.in.Style.EachTime }
