package thin

import "slices"

// spare takes away of an event's digits what the reader can do without and nothing around asks for: as many as can be.
// It gives how many.
func (p *planner) spare(e int) int {
	if !p.shows(e) {
		return 0
	}
	for _, keep := range p.lesser(e) {
		n := 0
		was := p.only(e, keep, func(int) { n++ })
		if p.allowedAround(e) && p.readsAround(e) {
			return n
		}
		p.restore(e, was)
	}
	return 0
}

// allowedAround says that nothing is missing around an event, and that a landing keeps its digit.
func (p *planner) allowedAround(e int) bool {
	return !p.missing(e) && !(p.lands(e) && !p.stands(e, len(p.line[e].notes)-1) && candidate(p.in, p.line[e].notes[len(p.line[e].notes)-1]))
}

// readsAround reports whether the reader gets the line right between the nearest fully known events around one: beyond
// them nothing that is printed in between matters.
func (p *planner) readsAround(e int) bool {
	from, to := e, e
	for from > 0 && (from == e || !p.complete(from)) {
		from--
	}
	for to < len(p.line)-1 && (to == e || !p.complete(to)) {
		to++
	}
	known := make([][]int, to+1-from)
	for k := range known {
		known[k] = p.known(from + k)
	}
	for k, fingers := range p.memory.decode(p.line, from, to+1, known) {
		if !slices.Equal(fingers, p.line[from+k].fingers) {
			return false
		}
	}
	return true
}
