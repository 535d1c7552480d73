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
			if at, some := seen[name]; some && p.line[e].measure-p.line[at].measure <= shortly && p.open(e) &&
				(!p.nextFinger(e) || p.ledAstray(at, e)) {
				differ = append(differ, p.differing(at, e)...)
			}
			seen[name] = e
		}
		if at := p.preface.Begins(e); at >= 0 && p.line[e].measure-p.line[at].measure <= shortly && !p.goesOnAsTold(e) {
			differ = append(differ, p.differing(at, e)...)
		}
		if p.inParallel(e) {
			differ = append(differ, p.differing(e-1, e)...)
		}
		if p.astrayAtTheBeginning(e) {
			differ = append(differ, 0)
		}
		if p.innerDoubtful(e) {
			differ = p.places(e)
		}
		for k := range p.line[e].notes {
			if slices.Contains(differ, k) {
				p.print(e, Departs, k)
			}
		}
		p.clear(e)
	}
}

// ledAstray says that the two strokes before an event were those before an earlier one, too, with the same fingers, in the measure
// or the one before: a player is in the figure by then, though the next finger lies at hand.
func (p *planner) ledAstray(at, e int) bool {
	return at > 1 && p.line[e].measure-p.line[at].measure <= 1 && slices.Equal(p.line[at-2].keys, p.line[e-2].keys) &&
		slices.Equal(p.line[at-2].fingers, p.line[e-2].fingers)
}

// inParallel says that two keys a fifth or more apart go on, as wide, from two that have digits, and that the preface tells other
// fingers: a player keeps those that were printed.
func (p *planner) inParallel(e int) bool {
	if e == 0 || len(p.line[e].keys) != 2 || len(p.line[e-1].keys) != 2 || p.line[e].apart || !p.shows(e-1) {
		return false
	}
	_, by := p.preface.Tells(e)
	now, before := p.line[e].keys, p.line[e-1].keys
	low, high := now[0]-before[0], now[1]-before[1]
	return by == places.Grip && low*high > 0 && abs(low) <= third && abs(high-low) <= 2 && now[1]-now[0] < octave
}

// third is the widest step, in semitones, at which two keys in parallel are one movement.
const third = 4

// ledIn is how many strokes before a note, in the figure as well, tell a player that it comes again.
const ledIn = 2

// astrayAtTheBeginning says that a single note, the first of its measure, has its finger from a figure that came before the last
// measure, into which nothing has led yet, and that the hand lies otherwise.
func (p *planner) astrayAtTheBeginning(e int) bool {
	if len(p.line[e].keys) > 1 || !p.line[e].firstOfMeasure || e < ledIn || p.copies[e] >= 0 || p.confirms(e) {
		return false
	}
	_, by := p.preface.Tells(e)
	at := p.preface.From(e)
	if lies := p.preface.Lies(e); by != places.ComesAgain || p.goes[e] >= 0 || at < 0 || lies == 0 || lies == p.line[e].fingers[0] ||
		p.line[e].measure-p.line[at].measure <= 1 {
		return false
	}
	for k := 1; k <= ledIn; k++ {
		if p.preface.From(e-k) != at-k {
			return true
		}
	}
	return false
}

// evenly is by how much other inner fingers of a chord may be less usual, and still be what half of the players take.
const evenly = 8

// innerDoubtful says that nothing tells the inner fingers of a chord, and that others are as usual between its outer ones. The fewest
// digits leave it at that: print numbers hardly one such chord in ten.
func (p *planner) innerDoubtful(e int) bool {
	last := len(p.line[e].keys) - 1
	if p.fewest() || last+1 < grip || len(p.voices(e)) > 1 {
		return false
	}
	said, by := p.preface.Tells(e)
	return by == places.Grip && slices.Contains(said[1:last], 0) && p.rivalled(e, evenly, 0, last)
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
	return by != places.ComesAgain && by != places.StruckOn && !p.goesOnAsTold(e) && p.copies[e] < 0 && !p.confirms(e)
}

// goesOnAsTold says that a figure comes again at once, or goes on, to an event and tells it: what lies farther back misleads nobody.
func (p *planner) goesOnAsTold(e int) bool {
	_, by := p.preface.Tells(e)
	return (by == places.GoesOn || by == places.ComesAgain && p.goes[e] >= 0) && p.told(e)
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
