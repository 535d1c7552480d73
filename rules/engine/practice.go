package engine

import (
	"slices"

	"fingerproof/rules/fingering"
	"fingerproof/rules/lattice"
)

// Collapse is a passage whose best fingering at the tempo of practice does not hold at the tempo itself.
type Collapse struct {
	// Steps are the fingers that are best in practice, in the order of playing; only those that differ.
	Steps []Step
	// Excess is what they cost more than the best fingering at the tempo, in milli-nats; Saving what they cost less in practice.
	Excess, Saving int
}

// Both, in 1/4096 nat: below, the difference is a matter of taste.
const (
	collapses = 2 * lattice.Nat
	tempts    = lattice.Nat / 4
)

// hurried is the time between strokes, in microseconds, above which no fingering depends on the tempo enough to collapse.
const hurried = 250_000

// practice searches the line once more at a slower tempo, and lists the passages that are best there and collapse. It costs
// one forward pass, and nothing where the line is never fast.
func (w *Worker) practice(line *fingering.Line, l *lattice.Lattice, cheapest []int, percent int) []Collapse {
	if percent <= 0 || percent >= 100 || !w.aims.On || w.aims.Tempo == 0 || !fast(line) {
		return nil
	}
	slow := *line
	slow.Events = slices.Clone(line.Events)
	for e := range slow.Events {
		slow.Events[e].Micros = slow.Events[e].Micros * 100 / int64(percent)
	}
	var out []Collapse
	w.slow.Load(l, w.pricer.Model(&slow, l))
	easy, _ := w.slow.Cheapest()
	for from := 0; from < len(easy); from++ {
		if easy[from] == cheapest[from] {
			continue
		}
		to := from
		for same := 0; to+1 < len(easy) && same < 2; to++ {
			same++
			if easy[to+1] != cheapest[to+1] {
				same = 0
			}
		}
		way := slices.Clone(cheapest[max(from-2, 0):min(to+3, len(easy))])
		copy(way[from-max(from-2, 0):], easy[from:to+1])
		excess := w.search.CostOf(max(from-2, 0), way) - w.search.CostOf(max(from-2, 0), cheapest[max(from-2, 0):min(to+3, len(easy))])
		saving := w.slow.CostOf(max(from-2, 0), cheapest[max(from-2, 0):min(to+3, len(easy))]) - w.slow.CostOf(max(from-2, 0), way)
		if excess >= collapses && saving >= tempts {
			out = append(out, Collapse{Steps: stepsOf(l, from, easy[from:to+1], cheapest), Excess: milli(excess), Saving: milli(saving)})
		}
		from = to
	}
	return out
}

func fast(line *fingering.Line) bool {
	for e := 1; e < len(line.Events); e++ {
		if d := line.Events[e].Micros - line.Events[e-1].Micros; d > 0 && d < hurried {
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
				for _, id := range l.Line.Strikes[k.Strike].IDs {
					out = append(out, Step{ID: id, Finger: f})
				}
			}
		}
	}
	return out
}
