package engine

import (
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

// LeastEfforts gives, for each of several hands, what each stroke of a line costs in the fingering that is cheapest for
// that hand, by the table and the aims alone: nothing is remembered, and the network, which was taught with one hand
// size, is not asked. A line is priced once, and for the other hands only in what depends on the hand.
func (w *Worker) LeastEfforts(
	h fingering.Hand, hands []hand.Profile, weights *effort.Weights, notes []fingering.Note, aims effort.Aims,
) [][]EventEffort {
	out := make([][]EventEffort, len(hands))
	if len(notes) == 0 || len(hands) == 0 {
		return out
	}
	aims.NoLearned = true
	w.prepare(hands[0], weights, aims)
	w.Forget() // the workspace prices another line
	fits, same := effort.SameLine(hands[0], hands[1:])
	l := lattice.New(fingering.NewLine(h, notes, fits), hands[0])
	model := w.pricer.Model(l.Line, l).WithoutReturns()
	priced := w.search.Price(l, model)
	out[0] = leastOf(priced)
	for i, other := range hands[1:] {
		pricer := effort.NewPricerFor(weights, other, aims)
		if same[i] {
			theirs := model.For(pricer)
			out[i+1] = leastOf(w.slow.ForHand(priced, l.For(other), model.DifferenceTo(theirs)))
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
	out := make([]EventEffort, l.Events())
	for e := range out {
		for _, k := range l.Line.Events[e].Keys {
			if k.Struck {
				out[e].IDs = append(out[e].IDs, l.Line.Strikes[k.Strike].IDs...)
			}
		}
		out[e].Cost = priced.CostAt(e, path) - int64(l.Freed(e))
	}
	return out
}
