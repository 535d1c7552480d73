package engine

import (
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// EventEffort is what one stroke of a line costs.
type EventEffort struct {
	IDs  []int // of the notes struck
	Cost int64 // in 1/4096 nat
}

// Beside says of which other hands LeastEfforts will be asked.
func (w *Worker) Beside(hands []hand.Profile) {
	if !slices.Equal(w.beside, hands) {
		w.beside = slices.Clone(hands)
		w.Forget() // whose line is another one
	}
}

// LeastEfforts gives, for the hand of the call and for those beside it, what each stroke of a line costs in the fingering
// that is cheapest for that hand, by the table and the aims alone: nothing is remembered, and the network, which was
// taught with one size of hand, has no say. The line is priced once, unless it was the last one priced, and for the other
// hands only in what depends on the hand.
func (w *Worker) LeastEfforts(
	h fingering.Hand, profile hand.Profile, weights *effort.Weights, notes []fingering.Note, aims effort.Aims,
) [][]EventEffort {
	out := make([][]EventEffort, 1+len(w.beside))
	if len(notes) == 0 {
		return out
	}
	w.prepare(profile, weights, aims)
	model := w.price(h, profile, notes).WithoutReturns()
	l := w.kept.priced.Lattice()
	if l.Events() == 0 {
		return out
	}
	w.memory = resized(w.memory, l.Total())
	clear(w.memory)
	priced := w.withoutNetwork(w.with(w.memory), model)
	out[0] = leastOf(priced)
	aims.NoLearned = true
	for i, other := range w.beside {
		pricer := effort.NewPricerFor(weights, other, aims)
		if w.kept.same[i] {
			theirs := w.slow.ForHand(priced, l.For(other), model.DifferenceTo(model.For(pricer)))
			out[i+1] = leastOf(theirs)
			continue
		}
		own := lattice.New(fingering.NewLine(h, notes, other.Fits), other)
		out[i+1] = leastOf(w.slow.Price(own, pricer.Model(own.Line, own).WithoutReturns()))
	}
	return out
}

// leastOf gives what the strokes of a line cost on the cheapest path, without what is the same on every path.
func leastOf(priced *lattice.Priced) []EventEffort {
	l := priced.Lattice()
	path, _ := priced.Forward().Cheapest()
	out, ids := make([]EventEffort, l.Events()), make([]int, 0, len(l.Line.Strikes))
	for e := range out {
		from := len(ids)
		for _, k := range l.Line.Events[e].Keys {
			if k.Struck {
				ids = append(ids, l.Line.Strikes[k.Strike].IDs...)
			}
		}
		out[e] = EventEffort{IDs: ids[from:len(ids):len(ids)], Cost: priced.CostAt(e, path) - int64(l.Freed(e))}
	}
	return out
}
