package thin

import (
	"slices"

	"fingerproof/corpus/score"
)

// planner chooses the printed digits of one hand.
type planner struct {
	in      Fingered
	line    []event
	memory  memory
	out     []bool // by note, for all hands
	places  *places
	anchors []bool // by event: all its digits are known
	fronts  []front
}

// lookBack is how many events before a place that the reader would get wrong
// are looked through for the best place to print.
const lookBack = 6

// lookBack is that of the style: the fewest digits come of printing as late as can be.
func (p *planner) lookBack() int {
	if p.in.Style.Digits == "sparse" {
		return 1
	}
	return lookBack
}

// plan is one forward pass. The reader's best way to each finger of the
// fingering must be the fingering itself; where for the first time it is not,
// the digits of an event shortly before are printed, and the pass goes on from
// there: what lies before a fully known event has no say in what comes after.
// So every event is looked at once, and again only since the last such place.
func (p *planner) plan() {
	p.anchors, p.fronts = make([]bool, len(p.line)), make([]front, len(p.line))
	last := -1 // the last fully known event
	learnTo := func(e int) {
		p.anchors[e] = true
		p.fronts[e].fix(&p.line[e])
		p.memory.learn(p.line, last+1, e, func(e int) []int { return p.line[e].fingers })
		last = e
	}
	for e := 0; e < len(p.line); e++ {
		if p.courtesy(e) {
			p.print(e)
		}
		if !p.pass(e) {
			at := p.choose(last+1, e)
			p.print(at)
			learnTo(at)
			e = at
			continue
		}
		if p.complete(e) {
			learnTo(e)
		}
	}
	if n := len(p.line) - 1; n >= 0 &&
		!slices.Equal(p.fronts[n].states[p.fronts[n].best()].fingers, p.line[n].fingers) {
		p.print(n)
	}
	if p.in.Style.Chords != "all" {
		p.spareChords()
	}
}

// pass goes to event e and reports whether the reader's way to the fingers
// there is the fingering. Where the reader would not think of these fingers,
// their digits are printed.
func (p *planner) pass(e int) bool {
	known := p.known(e)
	if e == 0 {
		p.fronts[e] = begin(&p.line[e], known)
	} else {
		p.fronts[e] = p.memory.step(&p.line[e-1], &p.fronts[e-1], &p.line[e], known)
	}
	f := &p.fronts[e]
	at := f.find(p.line[e].fingers)
	if at < 0 {
		p.print(e)
		return p.pass(e)
	}
	if e == 0 || len(p.fronts[e-1].states) == 1 {
		return true
	}
	return slices.Equal(p.fronts[e-1].states[f.from[at]].fingers, p.line[e-1].fingers)
}

func (p *planner) known(e int) []int {
	return knownOf(&p.line[e], func(i int) bool { return p.out[i] || p.in.Stands[i] })
}

// complete reports whether all digits of an event are known.
func (p *planner) complete(e int) bool { return !slices.Contains(p.known(e), 0) }

// print prints what is not yet known of an event.
func (p *planner) print(e int) {
	p.anchors[e] = true
	for _, i := range p.line[e].notes {
		p.out[i] = candidate(p.in, i)
	}
}

// choose picks the event, from first up to but not including wrong, whose
// digits are printed: a passing thumb rather than a shift, a shift rather than
// a strong beat, and the place that its twin in a return has.
func (p *planner) choose(first, wrong int) int {
	best, most := wrong-1, 0
	for e := wrong - 1; e >= max(first, wrong-p.lookBack()); e-- {
		worth := 4*p.passing(e) + 2*(lookBack-(wrong-e))/2
		if p.line[e].firstOfMeasure {
			worth++
		}
		if p.line[e].onBeat {
			worth += 2
		}
		if p.surprises(e) {
			worth += 8
		}
		if p.places.alike(&p.line[e]) {
			worth += 6
		}
		if worth > most {
			best, most = e, worth
		}
	}
	return best
}

// shift is the unease of a move beyond which the hand has shifted.
const shift = 4

// surprises reports whether a reader who does not know what comes would take
// another finger at an event.
func (p *planner) surprises(e int) bool {
	f := &p.fronts[e]
	return !slices.Equal(f.states[f.best()].fingers, p.line[e].fingers)
}

// passing is 2 where the thumb passes or a finger passes over it, 1 where the
// hand shifts, 0 where it lies still.
func (p *planner) passing(e int) int {
	if e == 0 {
		return 1
	}
	before, now := &p.line[e-1], &p.line[e]
	if now.apart {
		return 1
	}
	a, b := before.keys[0], now.keys[0]
	f, g := before.fingers[0], now.fingers[0]
	switch {
	case a != b && (f < g) != (a < b) && f != g:
		return 2
	case a != b && f == g:
		return 1
	}
	for i, key := range now.keys {
		for k, from := range before.keys {
			if strain[before.fingers[k]][now.fingers[i]][reduced(key-from)] > shift {
				return 1
			}
		}
	}
	return 0
}

// courtesy reports whether the policy prints the event's digits in any case.
func (p *planner) courtesy(e int) bool {
	style, event := &p.in.Style, &p.line[e]
	if slices.ContainsFunc(event.notes, p.in.must) {
		return true
	}
	note := &p.in.Score.Notes[event.notes[0]]
	if style.First && e == 0 {
		return true
	}
	if e > 0 {
		if q := style.RestQuarters; q > 0 && score.Whole(int64(q)).Cmp(event.at.Sub(p.line[e-1].end)) <= 0 {
			return true
		}
		before := &p.in.Score.Notes[p.line[e-1].notes[0]]
		// Systems are counted anew on each page.
		here, there := &p.in.Score.Measures[note.Measure], &p.in.Score.Measures[before.Measure]
		if style.System && (here.System != there.System || here.Page != there.Page) {
			return true
		}
	}
	if style.Return && slices.ContainsFunc(event.notes, func(i int) bool { return p.places.begins[i] }) {
		return true
	}
	// Players look for the passing thumb, learners for the beginning of each measure besides.
	switch style.Digits {
	case "study":
		return event.firstOfMeasure || p.passing(e) > 1
	case "performance":
		return len(event.notes) == 1 && p.passing(e) > 1
	}
	return false
}
