package thin

import "slices"

// front is the reader's forward pass at one event: for each state the least
// unease of a way to it, and the state before on that way.
type front struct {
	states []readerState
	cost   []int
	from   []int // index of the state before, -1 where the hand comes from nowhere
}

// begin is the pass at an event that nothing comes before.
func (m *memory) begin(e *event, known []int) front {
	f := front{states: m.table().states(e, known)}
	for _, s := range f.states {
		f.cost, f.from = append(f.cost, s.ease), append(f.from, -1)
	}
	return f
}

// step takes the pass from one event to the next. Of two ways as easy the one
// through the earlier state is taken. Up to the event certain, what was read is remembered.
func (m *memory) step(line []event, e int, f *front, known []int, certain int) front {
	before, now := &line[e-1], &line[e]
	next := front{states: m.table().states(now, known)}
	next.cost, next.from = make([]int, len(next.states)), make([]int, len(next.states))
	for k := range next.from {
		next.from[k] = -1
	}
	again := m.again(line, e, certain)
	for j := range f.states {
		was := f.states[j].fingers
		remembered := m.recalledOf(m.recall(line, before, was, now, certain), again, m.told(line, e, certain, was))
		for k := range next.states {
			cost := f.cost[j] + next.states[k].ease
			if fingers := next.states[k].fingers; !now.apart {
				cost += remembered.unease(fingers, m.table().moveUnease(before, was, now, fingers))
			}
			if next.from[k] < 0 || cost < next.cost[k] {
				next.from[k], next.cost[k] = j, cost
			}
		}
	}
	return next
}

// best is the easiest state, the earlier of two as easy.
func (f *front) best() int {
	out := 0
	for k, c := range f.cost {
		if c < f.cost[out] {
			out = k
		}
	}
	return out
}

// find gives the state of these fingers, -1 where the reader would not think of it.
func (f *front) find(fingers []int) int {
	return slices.IndexFunc(f.states, func(s readerState) bool { return slices.Equal(s.fingers, fingers) })
}

// fix keeps one state alone: all digits of the event are known.
func (f *front) fix(e *event) {
	*f = front{states: []readerState{{e.fingers, 0}}, cost: []int{0}, from: []int{-1}}
}

// decode is the reader's answer for events from up to but not including to,
// given the known digits of each (known[k] belongs to line[from+k]). It learns as it goes.
func (m *memory) decode(line []event, from, to int, known [][]int) [][]int {
	out := make([][]int, to-from)
	fronts := make([]front, to-from)
	certain := 0 // events before this one are read
	learnTo := func(k, at int) {
		for j := k; j >= certain; j-- {
			out[j] = fronts[j].states[at].fingers
			at = fronts[j].from[at]
		}
		m.learn(line, from+certain, from+k, func(e int) []int { return out[e-from] })
		certain = k + 1
	}
	for k := range fronts {
		if k == 0 {
			fronts[k] = m.begin(&line[from], known[k])
		} else {
			fronts[k] = m.step(line, from+k, &fronts[k-1], known[k], from+certain-1)
		}
		if !slices.Contains(known[k], 0) {
			learnTo(k, 0) // one state is left
		}
	}
	if n := len(fronts) - 1; n >= certain {
		learnTo(n, fronts[n].best())
	}
	return out
}
