package main

import (
	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
	"fingerproof/rules/hand"
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
			x, some := fit.NewExample(fingering.Hand(h), p.hands[h], trainingHand, func(id int) fingering.Finger {
				if r := &p.rows[id]; r.clean {
					return r.finger
				}
				return 0
			})
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
