package thin

import "slices"

// anchors prints where a player at tempo takes up the hand's place: the first note of a figure that comes again at once or goes on,
// and of a slur that begins on a beat or after silence; not where the hand comes as it did the last time.
func (p *planner) anchors() {
	for e := range p.line {
		if len(p.line[e].keys) > 1 || p.line[e].apart || p.shows(e) || p.printless(e) || p.copies[e] >= 0 || p.preface.AsLast(e) ||
			p.repeats(e) || p.confirms(e) {
			continue
		}
		switch {
		case p.beginsFigure(e):
			p.print(e, FigureBegins, 0)
		case p.beginsPhrase(e):
			p.print(e, PhraseBegins, 0)
		}
	}
}

// heads prints the first of a group of single notes of which a later one has a digit: without it they have no hold.
// Where the digits are to be the fewest, only where memory alone would tell it and the hand lies otherwise.
func (p *planner) heads() {
	if p.in.Style.EachTime {
		return
	}
	for from := 0; from < len(p.line); {
		to := p.groupEnd(from)
		if p.bareHead(from, to) {
			p.print(from, Head, 0)
		}
		from = to
	}
}

// groupEnd is the end of the notes under one beat or slur which an event begins: of as many beats as make a group, and leave one in
// the measure.
func (p *planner) groupEnd(from int) int {
	measure := from + 1
	for measure < len(p.line) && p.line[measure].measure == p.line[from].measure {
		measure++
	}
	for to := from + 1; to < measure; to++ {
		if p.begun[to] || p.line[to].apart || p.line[to].onBeat && to-from >= group && measure-to >= group {
			return to
		}
	}
	return measure
}

// group is how many notes, at least, have a head and a tail.
const group = 3

// bareHead says that of single notes from one event up to another the first has no digit and a later one has.
func (p *planner) bareHead(from, to int) bool {
	if to-from < group || !p.line[from].onBeat && !p.begun[from] && !p.line[from].apart || p.shows(from) || p.printless(from) || p.copies[from] >= 0 ||
		p.confirms(from) || p.repeats(from) || p.nextFinger(from) && p.nextFinger(from+1) {
		return false
	}
	if lies := p.preface.Lies(from); p.fewest() && (lies == 0 || lies == p.line[from].fingers[0]) {
		return false
	}
	tail := false
	for e := from; e < to; e++ {
		if len(p.line[e].keys) > 1 {
			return false
		}
		why := p.last(e) // a digit out of courtesy begins something itself
		tail = tail || p.shows(e) && (why < FirstOfHand || why > ReturnBegins)
	}
	return tail
}

// beginsFigure says that an event is the first of a figure of three strokes or more that comes again at once or goes on.
func (p *planner) beginsFigure(e int) bool {
	if p.goes[e] >= 0 {
		return false
	}
	again := slices.Index(p.goes[e:], e) // the event that repeats this one first
	return again > 2 && p.goes[e+again-1] < 0
}

// beginsPhrase says that a slur begins at an event, on a beat or after silence.
func (p *planner) beginsPhrase(e int) bool {
	return p.begun[e] && (p.line[e].onBeat || e == 0 || p.line[e-1].end.Less(p.line[e].at))
}
