package thin

import (
	"slices"

	"fingerproof/rules/places"
)

// How the reader learns what is usual: it reads printed pages with some of their digits and is put right where it goes
// wrong (a structured perceptron with a margin, averaged: Collins 2002, Taskar 2004).
const (
	// atEase is by how much the fingering has to be easier than another, for each finger that differs.
	atEase = 40
	// lesson is by how much a place of a table moves when it is put right.
	lesson = 4
)

// Learner learns what readers take for usual.
type Learner struct {
	now  *Usual
	sums [numTables][]int // of each place's values over time
	last [numTables][]int // until when the sum is worked out
	time int
}

// NewLearner knows nothing but the spans.
func NewLearner() *Learner {
	return &Learner{now: newUsual(), sums: newUsual().tables, last: newUsual().tables}
}

// Usual is what was learned: of each value the mean over all that was read.
func (l *Learner) Usual() *Usual {
	out := newUsual()
	for t, values := range l.now.tables {
		for at, v := range values {
			sum := l.sums[t][at] + v*(l.time-l.last[t][at])
			out.tables[t][at] = sum / max(l.time, 1) // toward 0
		}
	}
	return out
}

// Lesson is a fingered piece from which a reader learns.
type Lesson struct{ lines []*reading }

// NewLesson prepares a piece.
func NewLesson(in Fingered) *Lesson {
	out := &Lesson{}
	for _, l := range lineOrder(in) {
		line := eventsOf(in, &in.Playing.Lines[l])
		preface := places.NewPreface(places.Events(in.Score, &in.Playing.Lines[l], in.Finger))
		if m := wholeMemory(in, line); m != nil {
			out.lines = append(out.lines, &reading{line, preface, m})
		}
	}
	return out
}

// Read goes once over a piece of which the digits of some notes are known.
func (l *Learner) Read(lesson *Lesson, known func(note int) bool) {
	for _, r := range lesson.lines {
		r.memory.usual = l.now
		for e := range r.line {
			if digits := knownOf(&r.line[e], known); slices.Contains(digits, 0) {
				l.event(r, e, digits)
			}
		}
	}
}

// event puts the reader right at an event: the way that it is likeliest to take for the fingering, wrong ones preferred by
// the margin, costs more from now on, the fingering less.
func (l *Learner) event(r *reading, e int, known []int) {
	l.time++
	now := &r.line[e]
	var was []int
	if e > 0 {
		was = r.line[e-1].fingers
	}
	states := r.open(e, known)
	if len(states) == 1 || !slices.ContainsFunc(states, func(s readerState) bool { return slices.Equal(s.fingers, now.fingers) }) {
		return // a digit is printed there whatever is usual
	}
	costs := r.costs(e, was, states)
	best := 0
	for k := range states {
		for i, f := range states[k].fingers {
			if f != now.fingers[i] {
				costs[k] -= atEase
			}
		}
		if costs[k] < costs[best] {
			best = k
		}
	}
	if slices.Equal(states[best].fingers, now.fingers) {
		return
	}
	r.places(e, was, states[best].fingers, func(table, place int) { l.move(table, place, lesson) })
	r.places(e, was, now.fingers, func(table, place int) { l.move(table, place, -lesson) })
}

// places gives the places of the tables that speak of a way to take an event.
func (r *reading) places(e int, was, fingers []int, at func(table, place int)) {
	gripPlaces(r.line[e].keys, fingers, at)
	if e == 0 || r.line[e].apart {
		return
	}
	seen := r.memory.recall(r.line, &r.line[e-1], was, &r.line[e], e-1)
	if slices.Equal(seen, fingers) {
		return
	}
	movePlaces(&r.line[e-1], was, &r.line[e], fingers, at)
	if seen != nil {
		at(ofMemory, otherTurn)
	}
}

// related gives the places that speak of the same but for the colours of the keys, or the kind of the move; a lesson bears on
// them half as much.
func related(table, place int) (out []int) {
	switch table {
	case ofPair, ofStep:
		for k := range 4 {
			out = append(out, place/4*4+k)
		}
	case ofLower, ofUpper:
		for k := range kinds {
			out = append(out, k*pairs*steps+place%(pairs*steps))
		}
	}
	return out
}

// move moves a place of a table, and those related.
func (l *Learner) move(table, place, by int) {
	add := func(place int) {
		value, last := &l.now.tables[table][place], &l.last[table][place]
		l.sums[table][place] += *value * (l.time - *last)
		*last = l.time
		*value += by
	}
	add(place)
	for _, at := range related(table, place) {
		add(at)
	}
}
