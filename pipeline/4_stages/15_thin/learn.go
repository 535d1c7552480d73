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
type Lesson struct {
	lines  [][]event
	memory []*memory
}

// NewLesson prepares a piece.
func NewLesson(in Fingered) *Lesson {
	out := &Lesson{}
	for _, l := range lineOrder(in) {
		line := eventsOf(in, &in.Playing.Lines[l])
		out.lines = append(out.lines, line)
		out.memory = append(out.memory, wholeMemory(in, line, places.Events(in.Score, &in.Playing.Lines[l], in.Finger)))
	}
	return out
}

// Read goes once over a piece of which the digits of some notes are known.
func (l *Learner) Read(lesson *Lesson, known func(note int) bool) {
	for k, line := range lesson.lines {
		m := lesson.memory[k]
		if m == nil {
			continue
		}
		m.usual = l.now
		for from := 0; from < len(line); {
			to := from + 1
			for to < len(line) && slices.Contains(knownOf(&line[to], known), 0) {
				to++
			}
			l.stretch(&stretch{m, line, from, min(to, len(line)-1), known})
			from = to
		}
	}
}

// stretch is what lies between two events that are known whole, these included.
type stretch struct {
	*memory
	line     []event
	from, to int
	known    func(note int) bool
}

// certain is the event up to which everything is read.
func (s *stretch) certain() int {
	if slices.Contains(knownOf(&s.line[s.from], s.known), 0) {
		return s.from - 1
	}
	return s.from
}

// temptation is the way that the reader is likeliest to take for the fingering, wrong ones preferred by the margin.
func (s *stretch) temptation() [][]int {
	fronts := make([]front, s.to-s.from+1)
	for k := range fronts {
		e := &s.line[s.from+k]
		if k == 0 {
			fronts[k] = s.begin(e, knownOf(e, s.known))
		} else {
			fronts[k] = s.step(s.line, s.from+k, &fronts[k-1], knownOf(e, s.known), s.certain())
		}
		for j := range fronts[k].states {
			for i, f := range fronts[k].states[j].fingers {
				if f != e.fingers[i] {
					fronts[k].cost[j] -= atEase
				}
			}
		}
	}
	out := make([][]int, len(fronts))
	at := fronts[len(fronts)-1].best()
	for k := len(fronts) - 1; k >= 0; k-- {
		out[k] = fronts[k].states[at].fingers
		at = fronts[k].from[at]
	}
	return out
}

// stretch puts the reader right on a stretch.
func (l *Learner) stretch(s *stretch) {
	l.time++
	way := s.temptation()
	right := func(k int) []int { return s.line[s.from+k].fingers }
	if s.same(way) {
		return
	}
	s.places(func(k int) []int { return way[k] }, func(table, place int) { l.move(table, place, lesson) })
	s.places(right, func(table, place int) { l.move(table, place, -lesson) })
}

// same says that a way is the fingering.
func (s *stretch) same(way [][]int) bool {
	for k := range way {
		if !slices.Equal(way[k], s.line[s.from+k].fingers) {
			return false
		}
	}
	return true
}

// places gives the places of the tables that speak of a way over the stretch.
func (s *stretch) places(way func(k int) []int, at func(table, place int)) {
	certain := s.certain()
	for k := range s.to - s.from + 1 {
		e, now := s.from+k, way(k)
		if k > 0 || certain < s.from {
			gripPlaces(s.line[e].keys, now, at)
		}
		if k == 0 || s.line[e].apart {
			continue
		}
		before, was := &s.line[e-1], way(k-1)
		again := s.again(s.line, e, certain)
		told := s.told(s.line, e, certain, was)
		r := s.recalledOf(s.recall(s.line, before, was, &s.line[e], certain), again, told)
		if r.fingers != nil && slices.Equal(r.fingers, now) {
			continue
		}
		movePlaces(before, was, &s.line[e], now, at)
		switch {
		case told != nil && slices.Equal(r.fingers, told):
		case again != nil:
			at(ofMemory, otherFigure)
		case r.fingers != nil:
			at(ofMemory, otherTurn)
		}
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
