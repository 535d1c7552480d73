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
