package thin

// firsts sees to it that the first of two has the digit: no later time of a figure or a key has one that all times before
// it lack, and no second note after a leap one that the first lacks. Where the reader does as well, the digit moves; else
// both have it.
func (p *planner) firsts() {
	for e := range p.line {
		if !p.shows(e) || p.in.Style.EachTime || p.fewest() {
			continue
		}
		if first := p.bareBefore(e); first >= 0 && !p.printless(first) && !p.confirms(first) {
			p.toFirst(e, first, true)
		} else if first := p.bareInMeasure(e); first >= 0 && !p.printless(first) {
			p.toFirst(e, first, false)
		}
	}
	for e := 2; e < len(p.line); e++ {
		if p.shows(e) && p.afterLanding(e) {
			p.toFirst(e, e-1, true)
		}
	}
}

// bareBefore gives the first time of what an event repeats, where no time before it has a digit; else −1.
func (p *planner) bareBefore(e int) int {
	first := -1
	for at := p.preface.From(e); at >= 0; at = p.preface.From(at) {
		if p.shows(at) {
			return -1
		}
		first = at
	}
	return first
}

// bareInMeasure gives the first time that the key of an event was struck by its finger in the measure, where no digit stands
// from there on; −1 for none.
func (p *planner) bareInMeasure(e int) int {
	first := -1
	for at := e - 1; at >= 0 && len(p.line[e].keys) == 1 && p.line[at].measure == p.line[e].measure && !p.shows(at); at-- {
		if len(p.line[at].keys) > 1 || p.line[at].keys[0] != p.line[e].keys[0] {
			continue
		}
		if p.line[at].fingers[0] != p.line[e].fingers[0] {
			break
		}
		first = at
	}
	return first
}

// afterLanding says that an event lies under the hand from the one before, to which it came by a leap, and which is bare.
func (p *planner) afterLanding(e int) bool {
	if len(p.line[e].keys) > 1 || len(p.line[e-1].keys) > 1 || p.line[e-1].apart || p.shows(e-1) || p.printless(e-1) || p.moves(e) || p.confirms(e-1) {
		return false
	}
	width := apart(p.line[e-2].keys, p.line[e-1].keys)
	if p.in.Style.Digits != "study" && width <= leap && p.told(e-1) && p.outermost(e-1) {
		return false
	}
	return width > fifth && p.preface.From(e-1) < 0
}

// outermost says that a single note lies beyond the event before and is taken by the outermost finger there: nobody takes another.
func (p *planner) outermost(e int) bool {
	if e == 0 || len(p.line[e].keys) > 1 {
		return false
	}
	key, finger, before := p.line[e].keys[0], p.line[e].fingers[0], p.line[e-1].keys
	return finger == 5 && key > before[len(before)-1] || finger == 1 && key < before[0]
}

// toFirst moves the digits of an event to one before it; where the reader does worse then, both have them, or all stays.
func (p *planner) toFirst(e, first int, both bool) {
	moves := p.last(e) >= Wanted && !p.keeps(e)
	if !moves && !both {
		return
	}
	var at []int
	for k := range p.line[e].notes {
		if p.stands(e, k) && k < len(p.line[first].notes) {
			at = append(at, k)
		}
	}
	before := p.only(first, p.places(first), nil)
	p.print(first, First, at...)
	p.clear(first)
	if !moves {
		return
	}
	was := p.only(e, nil, nil)
	if p.mayStay(e) && (both || p.reads(first)) {
		return
	}
	p.restore(e, was)
	if !both {
		p.restore(first, before)
	}
}
