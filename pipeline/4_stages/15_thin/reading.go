package thin

import (
	"slices"

	"fingerproof/rules/places"
)

// reading is how a page is read, from left to right: a player who has come to an event knows what lies before it. The preface
// tells most fingers (rules/places, Preface). What it does not tell the player takes as it was taken before, or else as it
// lies most at ease after the event before, by what readers are used to (reader.go, usual.go). So whether an event is read
// goes by its own digits and by nothing that stands around it.
type reading struct {
	line    []event
	preface *places.Preface
	memory  *memory
}

// fingers gives those that are read at an event, from those read at the one before and the digits that are known, 0 where
// none is.
func (r *reading) fingers(e int, was, known []int) []int {
	states := r.open(e, known)
	if len(states) == 1 {
		return states[0].fingers
	}
	costs := r.costs(e, was, states)
	best := 0
	for k, c := range costs {
		if c < costs[best] {
			best = k
		}
	}
	return states[best].fingers
}

// open gives the ways to take an event that agree with the digits that are known and with what the preface tells.
func (r *reading) open(e int, known []int) []readerState {
	want := r.preface.With(e, known)
	if !slices.Contains(want, 0) {
		return []readerState{{want, 0}}
	}
	if states := r.memory.table().states(&r.line[e], want); !slices.Contains(states[0].fingers, 0) {
		return states
	}
	return r.memory.table().states(&r.line[e], known)
}

// costs gives how unusual it is to take an event in each of some ways after the one before.
func (r *reading) costs(e int, was []int, states []readerState) []int {
	out := make([]int, len(states))
	now, u := &r.line[e], r.memory.table()
	moves := e > 0 && !now.apart && !slices.Contains(was, 0)
	var as recalled
	if moves {
		as = r.memory.recalledOf(r.memory.recall(r.line, &r.line[e-1], was, now, e-1))
	}
	for k := range states {
		if out[k] = states[k].ease; moves {
			out[k] += as.unease(states[k].fingers, u.moveUnease(&r.line[e-1], was, now, states[k].fingers))
		}
	}
	return out
}

// read gives what is read at an event of the fingering, where all before it is read.
func (p *planner) read(e int) []int {
	var was []int
	if e > 0 {
		was = p.line[e-1].fingers
	}
	return p.reading.fingers(e, was, p.known(e))
}

// reads says that an event is read as it is fingered.
func (p *planner) reads(e int) bool { return slices.Equal(p.read(e), p.line[e].fingers) }

// needs prints what an event needs to be read: the digits of the keys that would be read otherwise, until none is.
func (p *planner) needs(e int) {
	for !p.whole(e) {
		at, why := p.misread(e)
		was := p.printedAt(e)
		p.print(e, why, at...)
		p.clear(e)
		if p.printedAt(e) == was {
			return
		}
	}
}

// misread lists the places of an event's keys that would be read otherwise, and says for which reason a digit is missing there.
func (p *planner) misread(e int) (at []int, why Why) {
	at, by := p.preface.Departs(e, func(i int) bool { return p.out[i] || p.in.Stands[i] })
	if by != places.Silent {
		return at, Departs
	}
	for k, f := range p.read(e) {
		if f != p.line[e].fingers[k] && !p.stands(e, k) {
			at = append(at, k)
		}
	}
	return at, Needed
}

// spare takes away of an event's digits what a reader can do without and nothing around asks for: as many as can be.
// It gives how many.
func (p *planner) spare(e int) int {
	if !p.shows(e) {
		return 0
	}
	for _, keep := range p.lesser(e) {
		n := 0
		was := p.only(e, keep, func(int) { n++ })
		if p.mayStay(e) {
			return n
		}
		p.restore(e, was)
	}
	return 0
}

// mayStay says that an event is read as it is, that nothing is missing around it, and that a landing has its digit.
func (p *planner) mayStay(e int) bool {
	last := len(p.line[e].notes) - 1
	if !p.reads(e) || p.missing(e) || p.lands(e) && !p.stands(e, last) && candidate(p.in, p.line[e].notes[last]) {
		return false
	}
	at, _ := p.preface.Departs(e, func(i int) bool { return p.out[i] || p.in.Stands[i] })
	return len(at) == 0
}
