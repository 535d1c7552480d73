package engine

import (
	"fingerproof/rules/fingering"
	"fingerproof/rules/lattice"
)

// fingerShares turns the grip posteriors of event e into the probability of each finger on each of its strikes, in
// 1/65536: share holds five for each strike of the line.
func fingerShares(l *lattice.Lattice, e int, posterior *lattice.Posterior, share []int64) {
	keys, grips := l.Line.Events[e].Keys, l.Grips(e)
	for _, k := range keys {
		if k.Struck {
			clear(share[k.Strike*fingering.Fingers:][:fingering.Fingers])
		}
	}
	for g, cost := range posterior.Of(e) {
		p := lattice.Probability(cost)
		for i, k := range keys {
			if k.Struck {
				share[k.Strike*fingering.Fingers+int(grips[g].Fingers[i])-1] += p
			}
		}
	}
}

// runsWeigh is what a grip of the cheapest path gains inside a handbook run, in sure fingers: there one even pattern is
// worth more than agreement note by note.
const runsWeigh = 4 * lattice.Agreement

// gains is how many of a grip's struck fingers are expected to agree; inside runs the cheapest path is kept to.
func gains(l *lattice.Lattice, share []int64, cheapest []int, runs [][2]int) []int64 {
	out := make([]int64, 0, len(share))
	inside := 0
	for e := range l.Events() {
		for inside < len(runs) && runs[inside][1] < e {
			inside++
		}
		for c, g := range l.Grips(e) {
			var sum int64
			if inside < len(runs) && e >= runs[inside][0] && c == cheapest[e] {
				sum = runsWeigh
			}
			for i, k := range l.Line.Events[e].Keys {
				if k.Struck {
					sum += share[k.Strike*fingering.Fingers+int(g.Fingers[i])-1]
				}
			}
			out = append(out, sum)
		}
	}
	return out
}

// chosenWeighs is what a finger gains that was chosen before, in sure fingers: more than anything else on a way.
const chosenWeighs = 1 << 14 * lattice.Agreement

// keepChosen adds to the gains of grips what they gain for fingers that were chosen before.
func keepChosen(l *lattice.Lattice, at places, notes []fingering.Note, gain []int64) {
	first := 0
	for e := range l.Events() {
		grips := l.Grips(e)
		for i, k := range l.Line.Events[e].Keys {
			if !k.Struck {
				continue
			}
			chosen := fingering.Finger(0)
			for _, id := range l.Line.Strikes[k.Strike].IDs {
				chosen = max(chosen, notes[at.of(id)].Chosen)
			}
			for c := range grips {
				if chosen > 0 && grips[c].Fingers[i] == chosen {
					gain[first+c] += chosenWeighs
				}
			}
		}
		first += len(grips)
	}
}
