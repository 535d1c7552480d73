package main

import (
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// trainingHand is the hand the tables are fitted for: the middle one.
var trainingHand = hand.NinthHand

// examples makes training examples of every piece that keep accepts.
func examples(pieces []*piece, keep func(*piece) bool) (out []*fit.Example) {
	for _, p := range pieces {
		if !keep(p) {
			continue
		}
		for h := range p.hands {
			line := fingering.NewLine(fingering.Hand(h), p.hands[h], trainingHand.Fits)
			x := &fit.Example{Lattice: lattice.New(line, trainingHand), Labels: make([]fingering.Finger, len(line.Strikes))}
			some := false
			for s, strike := range line.Strikes {
				for _, id := range strike.IDs {
					if r := p.rows[id]; r.clean {
						x.Labels[s], some = r.finger, true
					}
				}
			}
			if some {
				out = append(out, x)
			}
		}
	}
	return out
}

// trainWithout fits a table on every piece but those of the fold; fold −1 leaves none out.
func trainWithout(pieces []*piece, fold int, s fit.Settings, name string, prune float64) *effort.Weights {
	x := examples(pieces, func(p *piece) bool { return p.fold != fold })
	return fit.Train(x, effort.HandSet(), trainingHand, s).Weights(name, prune)
}
