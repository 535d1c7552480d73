package lattice

import (
	"testing"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// sample is a line of single keys, thirds and triads in turn: the small layers and the large ones of real music.
func sample(events int) *Lattice {
	var notes []fingering.Note
	for e := range events {
		for k := range e%3 + 1 {
			on, end := fingering.Moment{Num: int64(e), Den: 1}, fingering.Moment{Num: int64(e + 1), Den: 1}
			notes = append(notes, fingering.Note{ID: len(notes), Key: 60 + e*5%12 + 4*k, Onset: on, End: end})
		}
	}
	return New(fingering.NewLine(fingering.Right, notes, hand.NinthHand.Fits), hand.NinthHand)
}

// One workspace for all rounds, as the engine uses it.
func BenchmarkCheapest(b *testing.B) {
	l := sample(600)
	m := &arbitrary{l: l, seed: 1, flat: true}
	var work Workspace
	for b.Loop() {
		work.Price(l, m).Forward().Cheapest()
	}
}

func BenchmarkMarginalsAndPosterior(b *testing.B) {
	l := sample(600)
	m := &arbitrary{l: l, seed: 1, flat: true}
	var work Workspace
	for b.Loop() {
		priced := work.Price(l, m)
		priced.Forward().Backward()
		priced.Posterior()
	}
}
