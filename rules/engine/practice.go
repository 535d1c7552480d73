package engine

import (
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/lattice"
)

// Collapse is a passage whose best fingering at the tempo of practice does not hold at the tempo itself.
type Collapse struct {
	// Steps are the fingers that are best in practice, in the order of playing; only those that differ.
	Steps []Step
	// Excess is what they cost more than the best fingering at the tempo, in milli-nats; Saving what they cost less
	// in practice.
	Excess, Saving int
}

// Both, in 1/4096 nat: below, the difference is a matter of taste.
const (
	leastExcess = 2 * lattice.Nat // more effort than this at the tempo, or it does not collapse
	leastSaving = lattice.Nat / 4 // less effort than this in practice, or nobody would choose it
)

// fastStroke is the time between strokes, in microseconds, above which no fingering depends on the tempo enough to
// collapse.
const fastStroke = 250_000

// practice searches the line once more at a slower tempo, and lists the passages that are best there and collapse:
// those that were worked out, and those that given digits ask for, which are held against what the hand would do
// without them. Habit that the network has learned from print is left out on both sides: it is about what a hand can do.
// It costs one forward pass, another where the network is asked, two more where digits are given, and nothing where the line is never fast or
// the tempo changes no price. Where digits are given the workspace of the priced line is used again.
func (w *Worker) practice(
	priced *lattice.Priced, model *effort.Model, cheapest, path []int, percent int,
) (out []Collapse) {
	l := priced.Lattice()
	line := l.Line
	if percent <= 0 || percent >= 100 || !w.aims.On || w.aims.Tempo == 0 || !fast(line) {
		return nil
	}
	if plain := w.withoutNetwork(priced, model); plain != priced {
		priced = plain
		cheapest, _ = priced.Forward().Cheapest()
	}
	if slow := w.inPractice(priced, model, percent); slow != nil {
		easy, _ := slow.Forward().Cheapest()
		out = collapses(priced, slow, easy, cheapest)
	}
	if !given(line) {
		return out
	}
	free := unbound(line)
	lf := lattice.New(free, l.Profile)
	model = w.pricer.Model(free, lf)
	w.Forget() // the workspace prices another lattice
	priced = w.withoutNetwork(w.search.Price(lf, model), model)
	slow := w.inPractice(priced, model, percent)
	if slow == nil { // what is best in practice is best at the tempo
		return out
	}
	best, _ := priced.Forward().Cheapest()
	for _, c := range collapses(priced, slow, sameGrips(l, path, lf, best), best) {
		if slices.ContainsFunc(c.Steps, func(s Step) bool { return bound(line, s) }) {
			out = slices.DeleteFunc(out, func(o Collapse) bool { return o.shares(c) })
			out = append(out, c)
		}
	}
	return out
}

// withoutNetwork gives prices without what the network says, the same where it says nothing.
func (w *Worker) withoutNetwork(priced *lattice.Priced, model *effort.Model) *lattice.Priced {
	l := priced.Lattice()
	plain := w.plain.Repriced(priced, func(e int, pair []int32) bool {
		w.slower = resized(w.slower, l.Count(e))
		clear(w.slower)
		if !model.OfNetwork(e, -1, w.slower) {
			return false
		}
		for i := range pair {
			pair[i] += w.slower[i%len(w.slower)]
		}
		return true
	})
	if plain == nil {
		return priced
	}
	return plain
}

// inPractice gives the prices at a tempo of so many percent, nil where they are the same.
func (w *Worker) inPractice(priced *lattice.Priced, model *effort.Model, percent int) *lattice.Priced {
	l := priced.Lattice()
	slow := model.AtTempoOf(slower(l.Line, percent))
	return w.slow.Repriced(priced, func(e int, pair []int32) bool {
		w.slower = resized(w.slower, l.Count(e))
		clear(w.slower)
		joined := pair
		if e == 0 {
			joined = nil
		}
		differs := model.Other(slow, e, w.slower, joined)
		if differs {
			for i := range pair {
				pair[i] += w.slower[i%len(w.slower)]
			}
		}
		return differs
	})
}

// slower is the line at a tempo of so many percent.
func slower(line *fingering.Line, percent int) *fingering.Line {
	slow := *line
	slow.Events = slices.Clone(line.Events)
	for e := range slow.Events {
		slow.Events[e].Micros = slow.Events[e].Micros * 100 / int64(percent)
	}
	return &slow
}

// given says that digits bind somewhere in the line.
func given(line *fingering.Line) bool {
	return slices.ContainsFunc(line.Strikes, func(s fingering.Strike) bool { return s.Allowed != fingering.AnyFinger })
}

// bound says that a digit binds the strike of a step to its finger.
func bound(line *fingering.Line, step Step) bool {
	return slices.ContainsFunc(line.Strikes, func(s fingering.Strike) bool {
		return s.Allowed == fingering.Only(step.Finger) && slices.Contains(s.IDs, step.ID)
	})
}

// unbound is the line with every finger allowed everywhere.
func unbound(line *fingering.Line) *fingering.Line {
	free := *line
	free.Strikes, free.Events = slices.Clone(line.Strikes), slices.Clone(line.Events)
	for s := range free.Strikes {
		free.Strikes[s].Allowed, free.Strikes[s].Then = fingering.AnyFinger, 0
	}
	for e := range free.Events {
		free.Events[e].Keys = slices.Clone(free.Events[e].Keys)
		for k := range free.Events[e].Keys {
			free.Events[e].Keys[k].Allowed = fingering.AnyFinger
		}
	}
	return &free
}

// sameGrips looks a path's grips up in another layout of the same line. Grips that only given digits enforce are not
// there: other stands in for them, so that nothing is said of them.
func sameGrips(l *lattice.Lattice, path []int, in *lattice.Lattice, other []int) []int {
	out := make([]int, len(path))
	for e := range path {
		out[e] = slices.Index(in.Grips(e), l.Grips(e)[path[e]])
		if out[e] < 0 {
			out[e] = other[e]
		}
	}
	return out
}

func (c *Collapse) shares(other Collapse) bool {
	return slices.ContainsFunc(c.Steps, func(s Step) bool {
		return slices.ContainsFunc(other.Steps, func(o Step) bool { return o.ID == s.ID })
	})
}

// collapses lists the passages of an easy path that do not hold beside the best one at the tempo, by the prices at the
// tempo and those in practice.
func collapses(priced, slow *lattice.Priced, easy, best []int) (out []Collapse) {
	for from := 0; from < len(easy); from++ {
		if easy[from] == best[from] {
			continue
		}
		to := from
		for same := 0; to+1 < len(easy) && same < 2; to++ {
			same++
			if easy[to+1] != best[to+1] {
				same = 0
			}
		}
		first, last := max(from-2, 0), min(to+3, len(easy))
		held, way := best[first:last], slices.Clone(best[first:last])
		copy(way[from-first:], easy[from:to+1])
		excess := priced.StretchCost(first, way) - priced.StretchCost(first, held)
		saving := slow.StretchCost(first, held) - slow.StretchCost(first, way)
		if excess >= leastExcess && saving >= leastSaving && fastIn(priced.Lattice().Line, from, to+1) {
			out = append(out, Collapse{
				Steps: stepsOf(priced.Lattice(), from, easy[from:to+1], best), Excess: milli(excess),
				Saving: milli(saving),
			})
		}
		from = to
	}
	return out
}

func fast(line *fingering.Line) bool { return fastIn(line, 0, len(line.Events)-1) }

// fastIn says that some stroke from one event to another follows fast on the one before it.
func fastIn(line *fingering.Line, from, to int) bool {
	for e := max(from, 1); e <= to && e < len(line.Events); e++ {
		if d := line.Events[e].Micros - line.Events[e-1].Micros; d > 0 && d < fastStroke {
			return true
		}
	}
	return false
}

// stepsOf lists the strikes on a way from event from on whose finger differs from the path's.
func stepsOf(l *lattice.Lattice, from int, way, path []int) (out []Step) {
	for w, g := range way {
		e := from + w
		for i, k := range l.Line.Events[e].Keys {
			if f := l.Grips(e)[g].Fingers[i]; k.Struck && f != l.Grips(e)[path[e]].Fingers[i] {
				if out == nil {
					out = make([]Step, 0, 4)
				}
				for _, id := range l.Line.Strikes[k.Strike].IDs {
					out = append(out, Step{ID: id, Finger: f})
				}
			}
		}
	}
	return out
}
