package thin

import (
	"slices"
)

// crossings prints a digit where the hand moves between single notes and the preface tells no such move: on the note that it
// moves to. One on the note before stands for it where none can be printed there.
func (p *planner) crossings() {
	for e := 1; e < len(p.line); e++ {
		if len(p.line[e].keys) > 1 || len(p.line[e-1].keys) > 1 || p.line[e].apart || p.shows(e) || !p.moves(e) || p.preface.AsLast(e) || p.confirms(e) {
			continue
		}
		if p.told(e) && (p.fewest() || p.in.Style.Digits == "performance" && p.opens(e)) {
			continue
		}
		if !p.printless(e) {
			p.printAll(e, Move)
			p.spareBefore(e - 1)
		} else if !p.shows(e - 1) {
			p.printAll(e-1, Move)
		}
	}
}

// spareBefore takes the digit of a note away from which the hand moves, where the reader can do without.
func (p *planner) spareBefore(e int) {
	if p.shows(e) && p.last(e) >= Wanted && !p.keeps(e) {
		p.spare(e)
	}
}

// confirms says that a digit of a single note would only say again what the key had last: struck again at once, or within the
// measure before the hand moves.
func (p *planner) confirms(e int) bool {
	now := &p.line[e]
	if len(now.keys) > 1 || now.apart {
		return false
	}
	for at := e - 1; at >= 0 && p.line[at].measure == now.measure; at-- {
		if k := slices.Index(p.line[at].keys, now.keys[0]); k >= 0 {
			return p.line[at].fingers[k] == now.fingers[0]
		}
	}
	return false
}

// spareConfirming takes away digits that only confirm, where the reader can do without.
func (p *planner) spareConfirming() {
	if p.in.Style.EachTime {
		return
	}
	for e := range p.line {
		if p.shows(e) && p.last(e) >= Wanted && !p.keeps(e) && p.confirms(e) {
			p.spare(e)
		}
	}
}

// keeps says that digits of an event stand in the sparser style, too.
func (p *planner) keeps(e int) bool {
	return slices.ContainsFunc(p.line[e].notes, func(i int) bool { return p.kept[i] })
}
