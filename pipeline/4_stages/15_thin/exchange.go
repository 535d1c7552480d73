package thin

import (
	"cmp"
	"slices"
)

// How many events on either side a digit may move, and how much less wanted the other place may be, in thousandths of a
// nat.
const (
	exchangeReach = 3
	exchangeLoss  = 550
)

// exchange moves digits that are printed for the reader, or for want of a better place, to where the order of fingers
// breaks beside them and shows no digit, where the reader finds the fingering as well from there: a digit stands there,
// and not on a note behind it that proves it afterwards.
func (p *plan) exchange() {
	for _, h := range p.hands {
		for e := range h.line {
			if h.last(e) >= Wanted && !h.keeps(e) && !h.breaks(e) && !h.turns(e) {
				h.move(e)
			}
		}
	}
}

// move moves the digits of an event to the most wanted break beside it from which the reader does as well.
func (p *planner) move(e int) {
	if p.in.Style.EachTime && p.inFigure(e) {
		return
	}
	least, count := p.worthShown(e)-exchangeLoss, p.printedAt(e)
	type place struct{ event, worth int }
	var places []place
	for at := max(e-exchangeReach, 0); at <= min(e+exchangeReach, len(p.line)-1); at++ {
		if at == e || p.shows(at) || p.spared(at) && !p.spared(e) || p.repeats(at) || p.printless(at) || !p.breaks(at) {
			continue
		}
		if worth := p.worth(at); worth >= least {
			places = append(places, place{at, worth})
		}
	}
	slices.SortStableFunc(places, func(a, b place) int { return cmp.Compare(b.worth, a.worth) })
	for _, a := range places {
		if p.moveTo(e, a.event, count) {
			return
		}
	}
}

// breaks says that between two single notes the fingers do not follow in their order over the keys: the thumb passes, a
// finger passes over, the hand shifts, closes up or opens, or another finger takes the key that was struck.
func (p *planner) breaks(e int) bool {
	if e == 0 || len(p.line[e].notes) > 1 || len(p.line[e-1].notes) > 1 || p.line[e].apart {
		return false
	}
	return strainOf(p.line[e-1].fingers[0], p.line[e].fingers[0], p.line[e].keys[0]-p.line[e-1].keys[0]) > 0
}

// moveTo puts the digits of an event to another one, where no more are printed then and the reader does as well.
func (p *planner) moveTo(e, at, count int) bool {
	for _, keep := range p.lesser(e) {
		was := p.only(e, keep, nil)
		p.print(at, Wanted, len(p.line[at].notes)-1)
		p.clear(at)
		if p.printedAt(e)+p.printedAt(at) <= count && p.allowedAround(e) && p.allowedAround(at) && p.readsAround(e) && p.readsAround(at) {
			return true
		}
		for _, i := range p.line[at].notes {
			p.out[i] = false
		}
		p.restore(e, was)
	}
	return false
}

// worthShown is how much the digits that are printed at an event are wanted, on the whole.
func (p *planner) worthShown(e int) int {
	sum, n := 0, 0
	for k, i := range p.line[e].notes {
		if p.out[i] {
			sum, n = sum+p.wanted[e][k], n+1
		}
	}
	return sum / max(n, 1)
}

// keeps says that digits of an event stand in the sparser style, too.
func (p *planner) keeps(e int) bool {
	return slices.ContainsFunc(p.line[e].notes, func(i int) bool { return p.kept[i] })
}
