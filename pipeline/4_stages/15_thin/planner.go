package thin

import (
	"slices"

	"fingerproof/rules/places"
)

// planner chooses the printed digits of one hand.
type planner struct {
	in      Fingered
	line    []event
	reading *reading
	memory  *memory
	out     []bool // by note, for all hands
	why     []Why  // by note, for all hands
	kept    []bool // by note: it stands in the sparser style, too
	begins  []bool // by note: a passage that returns begins here
	preface *places.Preface
	wanted  [][]int // by event and key: the log-odds of a digit, in thousandths of a nat
	figures []int   // by event: as copies, but of what comes again on the same keys alone
	goes    []int   // by event: the event that it repeats of a figure that comes again at once or goes on, −1 for none
	begun   []bool  // by event: a slur begins there
	copies  []int   // by event: the event that it repeats in a figure, −1 for none
	steps   [][]int // by event and key: the step of the scale, nil where it is not known
	parts   [][][]int
	extra   []int
}

func newPlanner(in Fingered, line []event, events []places.Event, out []bool, why []Why, begins []bool) *planner {
	p := &planner{in: in, line: line, memory: wholeMemory(in, line), out: out, why: why, begins: begins}
	p.wanted = in.model().Line(events, in.Style.density()).Wanted()
	p.preface = places.NewPreface(events)
	p.copies, p.figures, p.goes = places.Copies(events), places.Figures(events), places.Sequences(events)
	p.reading = &reading{line, p.preface, p.memory}
	p.parts = make([][][]int, len(line))
	for e := range events {
		p.steps, p.begun = append(p.steps, events[e].Steps), append(p.begun, events[e].Slur == 1)
	}
	p.extras()
	return p
}

// print prints digits of an event: those of its places in at, for a reason. A reason given before stays.
func (p *planner) print(e int, why Why, at ...int) {
	for _, k := range at {
		if i := p.line[e].notes[k]; candidate(p.in, i) && !p.out[i] && !p.unison(e, k) {
			p.out[i], p.why[i] = true, why
		}
	}
}

// unison says that another voice strikes the same key, and has the digit; a note of a chord keeps its own.
func (p *planner) unison(e, k int) bool {
	if p.in.must(p.line[e].notes[k]) || slices.ContainsFunc(p.voices(e), func(g []int) bool { return len(g) > 1 && slices.Contains(g, k) }) {
		return false
	}
	for j, key := range p.line[e].keys {
		if j != k && key == p.line[e].keys[k] && p.line[e].fingers[j] == p.line[e].fingers[k] && p.stands(e, j) {
			return true
		}
	}
	return false
}

// printAll prints what is not yet known of an event.
func (p *planner) printAll(e int, why Why) {
	for k := range p.line[e].notes {
		p.print(e, why, k)
	}
}

// stands says that a digit of the key at place k stands on the page, printed or in the text.
func (p *planner) stands(e, k int) bool {
	i := p.line[e].notes[k]
	return p.out[i] || p.in.Stands[i]
}

// shows says that some digit of an event stands on the page.
func (p *planner) shows(e int) bool {
	return slices.ContainsFunc(p.line[e].notes, func(i int) bool { return p.out[i] || p.in.Stands[i] })
}

func (p *planner) known(e int) []int {
	return knownOf(&p.line[e], func(i int) bool { return p.out[i] || p.in.Stands[i] })
}

// whole reports whether all digits of an event are known.
func (p *planner) whole(e int) bool { return !slices.Contains(p.known(e), 0) }
