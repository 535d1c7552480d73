package thin

import "slices"

// What neither digits nor the preface tell the reader finds by what is usual, which no page says (usual.go). Sparse leaves it at that;
// readers of the fuller styles want the digits.

// untold prints the digits of an event that a player of the style would look for in vain: in study all that nothing tells, in
// performance those of which other fingers would do nearly as well, once a page, and in both what is missing where some keys of a
// chord have theirs.
func (p *planner) untold(e int) {
	if p.in.Style.Digits == "sparse" {
		return
	}
	at := p.unknown(e)
	if len(at) == 0 {
		return
	}
	last := len(p.line[e].keys) - 1
	switch {
	case p.printedAt(e) > 1:
	case p.in.Style.Digits == "study":
		if p.printedAt(e) == 0 && last > 0 && p.shownLately(e, shortly) {
			return
		}
	case p.printedAt(e) > 0 || last < grip-1 || !p.doubtful(e) || p.shownLately(e, page):
		return
	}
	if p.in.Style.Chords == "outer" { // those between have none in any case
		at = slices.DeleteFunc(at, func(k int) bool { return k != 0 && k != last })
	}
	p.print(e, Untold, at...)
	p.clear(e)
}

// unknown lists the places of an event's keys that neither digits nor the preface tell.
func (p *planner) unknown(e int) []int {
	return p.preface.Untold(e, func(i int) bool { return p.out[i] || p.in.Stands[i] })
}

// shownLately says that the keys of an event were struck by the same fingers within so many measures before, and that digits and the
// preface told all of them there.
func (p *planner) shownLately(e, measures int) bool {
	now := &p.line[e]
	for at := e - 1; at >= 0 && now.measure-p.line[at].measure <= measures; at-- {
		was := &p.line[at]
		if slices.Equal(was.keys, now.keys) && slices.Equal(was.fingers, now.fingers) && p.shows(at) && len(p.unknown(at)) == 0 {
			return true
		}
	}
	return false
}

// struckBare prints the digit of a key that was just struck where another finger was printed: bare it would be taken to stay.
func (p *planner) struckBare(e int) {
	if e == 0 || p.line[e].apart || p.in.Style.EachTime {
		return
	}
	before, now := &p.line[e-1], &p.line[e]
	for k, key := range now.keys {
		if at := slices.Index(before.keys, key); at >= 0 && before.fingers[at] != now.fingers[k] && p.stands(e-1, at) {
			p.print(e, Change, k)
		}
	}
	p.clear(e)
}
