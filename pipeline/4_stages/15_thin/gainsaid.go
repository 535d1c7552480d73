package thin

import (
	"fmt"
	"slices"

	"fingerproof/rules/places"
)

// What came shortly before with other fingers leads a player who remembers it astray, also where the preface tells to the letter what
// is meant: readers of panels found this the worst kind of fault.

// gainsaid prints the digits that differ from those of shortly before: where the hand comes to the same keys from the same grip,
// where three strokes come again on other keys as far apart, where a chord comes again, and where a passage that comes again begins.
func (p *planner) gainsaid() {
	if p.in.Style.EachTime {
		return
	}
	seen := map[string]int{}
	for e := range p.line {
		var differ []int
		for _, name := range p.names(e) {
			if at, some := seen[name]; some && p.line[e].measure-p.line[at].measure <= shortly && p.open(e) {
				differ = append(differ, p.differing(at, e)...)
			}
			seen[name] = e
		}
		if at := p.preface.Begins(e); at >= 0 && p.line[e].measure-p.line[at].measure <= shortly {
			differ = append(differ, p.differing(at, e)...)
		}
		for k := range p.line[e].notes {
			if slices.Contains(differ, k) {
				p.print(e, Departs, k)
			}
		}
		p.clear(e)
	}
}

// goesOnChanging prints what changes on keys that are struck again where the stroke before has its digit, also where a figure tells it:
// a digit on the first stroke alone would be kept. Not in keys struck equally often, of which the first stroke stands for all.
func (p *planner) goesOnChanging() {
	if p.in.Style.EachTime {
		return
	}
	for e := 1; e < len(p.line); e++ {
		if p.line[e].apart || p.copies[e] >= 0 || !p.shows(e-1) || p.struckAlike(e) || !slices.Equal(p.line[e-1].keys, p.line[e].keys) {
			continue
		}
		for _, k := range p.differing(e-1, e) {
			if p.stands(e-1, k) {
				p.print(e, Change, k)
			}
		}
		p.clear(e)
	}
}

// open says that a player may take an event from memory: no figure that comes again tells it, nor is it one that was struck just before.
func (p *planner) open(e int) bool {
	_, by := p.preface.Tells(e)
	return by != places.ComesAgain && by != places.StruckOn && p.copies[e] < 0 && !p.confirms(e) && !p.nextFinger(e)
}

// nextFinger says that a single note lies a step from the single note before, under the next finger: a player goes on there.
func (p *planner) nextFinger(e int) bool {
	if e == 0 || len(p.line[e].keys) > 1 || len(p.line[e-1].keys) > 1 {
		return false
	}
	up, finger := p.line[e].keys[0]-p.line[e-1].keys[0], p.line[e].fingers[0]-p.line[e-1].fingers[0]
	return abs(up) <= stepwise && abs(finger) == 1 && (up > 0) == (finger > 0)
}

// differing lists the places at which two events, of as many keys, have other fingers.
func (p *planner) differing(at, e int) (out []int) {
	for k, f := range p.line[e].fingers {
		if p.line[at].fingers[k] != f {
			out = append(out, k)
		}
	}
	return out
}

// names gives what an event is remembered by.
func (p *planner) names(e int) (out []string) {
	now := &p.line[e]
	if len(now.keys) > 1 {
		out = append(out, fmt.Sprint("chord", now.keys))
	}
	if e == 0 || now.apart {
		return out
	}
	before := &p.line[e-1]
	out = append(out, fmt.Sprint("turn", before.keys, before.fingers, now.at.Sub(before.at), now.keys))
	if e < 2 || before.apart || p.steps[e] == nil || p.steps[e-1] == nil || p.steps[e-2] == nil {
		return out
	}
	first := &p.line[e-2]
	from := p.steps[e-2][0]
	above := func(steps []int) (out []int) {
		for _, s := range steps {
			out = append(out, s-from)
		}
		return out
	}
	return append(out, fmt.Sprint("strokes", now.onBeat, first.fingers, before.at.Sub(first.at), now.at.Sub(first.at), before.fingers,
		above(p.steps[e-2]), above(p.steps[e-1]), above(p.steps[e])))
}
