package thin

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/places"
)

// plan chooses the printed digits of a piece.
type plan struct {
	hands []*planner
}

func newPlan(in Fingered, out []bool, why []Why, kept []bool) *plan {
	p := &plan{}
	begins := returnBegins(in)
	for _, l := range lineOrder(in) {
		line := eventsOf(in, &in.Playing.Lines[l])
		p.hands = append(p.hands, newPlanner(in, line, places.Events(in.Score, &in.Playing.Lines[l], in.Finger), out, why, begins))
		p.hands[len(p.hands)-1].kept = kept
	}
	return p
}

func (p *plan) choose() {
	for _, h := range p.hands {
		h.ask()
		h.exercises()
		h.landings()
		h.changes()
		if !h.fewest() {
			h.doubts()
		}
		if h.in.Style.Digits == "study" {
			h.newGrips()
		}
		h.gainsaid()
		h.crossings()
		for e := range h.line {
			h.needs(e)
		}
		h.printWanted()
		if h.in.Style.Digits == "performance" {
			h.anchors()
		}
		h.complete()
		h.spareUnwelcome()
		for range 2 { // what is printed to make them even can ask for more
			h.evenFigures()
			h.complete()
		}
		for was := -1; was != h.printed(); {
			was = h.printed()
			h.crossings()
			h.spareConfirming()
			h.firsts()
			h.goesOnChanging()
			h.heads()
			h.complete()
		}
		for was, round := -1, 0; was != h.printed() && round < rounds; round++ {
			was = h.printed()
			h.evenFigures()
			h.complete()
		}
		h.spareMany()
		h.evenMeasures(true)
		h.complete()
		for was := -1; was != h.printed(); { // what was printed beside them can ask for more, which is never taken away again
			was = h.printed()
			h.evenMeasures(false)
			h.complete()
		}
	}
}

// rounds is how often at most figures are made even again after what that asked for.
const rounds = 4

// fewest says that nothing is printed but what the reader needs, as in sparse where no density is asked for.
func (p *planner) fewest() bool { return p.in.Style.Digits == "sparse" && p.in.Style.Density == 0 }

// complete prints what is missing until nothing is: for the reader, for the eye, for chords and figures.
func (p *planner) complete() {
	for was := -1; was != p.printed(); {
		was = p.printed()
		p.mend()
		p.printEachTime()
		for e := range p.line {
			p.clear(e)
			p.needs(e)
			p.untold(e)
			p.struckBare(e)
		}
	}
}

func (p *planner) printed() (n int) {
	for e := range p.line {
		n += p.printedAt(e)
	}
	return n
}

func (p *planner) printedAt(e int) (n int) {
	for k := range p.line[e].notes {
		if p.stands(e, k) {
			n++
		}
	}
	return n
}

// last is the least of the reasons for which digits of an event are printed, the weightiest: NotPrinted for none.
func (p *planner) last(e int) Why {
	out := NotPrinted
	for _, i := range p.line[e].notes {
		if p.out[i] && (out == NotPrinted || p.why[i] < out) {
			out = p.why[i]
		}
	}
	return out
}

// spareUnwelcome takes away, where the reader can do without, digits of a figure's repetitions and a key's third like
// digit in a measure.
func (p *planner) spareUnwelcome() {
	for e := range p.line {
		if p.shows(e) && (p.spared(e) || p.repeats(e)) {
			p.spare(e)
		}
	}
}

// spared says that an event repeats a figure, and that the policy prints the digits of a figure the first time only.
func (p *planner) spared(e int) bool { return p.copies[e] >= 0 && !p.in.Style.EachTime }

// printEachTime gives every statement of a figure the digits of the others, where the policy prints them each time.
func (p *planner) printEachTime() {
	if !p.in.Style.EachTime {
		return
	}
	for e := range p.line {
		if p.copies[e] >= 0 {
			p.printLike(p.copies[e], e)
		}
	}
	for e := len(p.line) - 1; e >= 0; e-- {
		if p.copies[e] >= 0 {
			p.printLike(e, p.copies[e])
		}
	}
}

func (p *planner) printLike(from, to int) {
	for k := range p.line[from].notes {
		if p.stands(from, k) {
			p.print(to, Figure, k)
		}
	}
}

// ask prints what is printed whatever the reader knows: what must be, and what the policy prints out of courtesy.
func (p *planner) ask() {
	for e := range p.line {
		for k, i := range p.line[e].notes {
			if p.in.must(i) {
				p.print(e, Asked, k)
			}
		}
		if why := p.courtesy(e); why != NotPrinted {
			p.printAll(e, why)
		}
		p.clear(e)
	}
}

// courtesy is why the policy prints the event's digits in any case, NotPrinted where it does not.
func (p *planner) courtesy(e int) Why {
	style, event := &p.in.Style, &p.line[e]
	if e == 0 {
		if style.First {
			return FirstOfHand
		}
	} else {
		if q := style.RestQuarters; q > 0 && score.Whole(int64(q)).Cmp(event.at.Sub(p.line[e-1].end)) <= 0 {
			return AfterRest
		}
		here := &p.in.Score.Measures[p.in.Score.Notes[event.notes[0]].Measure]
		there := &p.in.Score.Measures[p.in.Score.Notes[p.line[e-1].notes[0]].Measure]
		// Systems are counted anew on each page.
		if style.System && (here.System != there.System || here.Page != there.Page) {
			return FirstOfSystem
		}
	}
	// A figure that comes again at once is no passage that returns.
	if style.Return && !p.spared(e) && slices.ContainsFunc(event.notes, func(i int) bool { return p.begins[i] }) {
		return ReturnBegins
	}
	return NotPrinted
}
