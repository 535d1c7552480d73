package lattice

import (
	"fmt"
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

// sizes are the lengths of line that are timed: a long page, and a movement.
var sizes = []int{600, 6000}

// timed runs a benchmark at each size, with prices laid out in one workspace for all rounds, as the engine uses it.
func timed(b *testing.B, round func(b *testing.B, priced *Priced)) {
	for _, events := range sizes {
		b.Run(fmt.Sprintf("events=%d", events), func(b *testing.B) {
			l := sample(events)
			var work Workspace
			round(b, work.Price(l, &arbitrary{l: l, seed: 1, flat: true}))
			b.ReportMetric(float64(events)*float64(b.N)/b.Elapsed().Seconds(), "events/s")
		})
	}
}

func BenchmarkPrice(b *testing.B) {
	timed(b, func(b *testing.B, p *Priced) {
		m := &arbitrary{l: p.l, seed: 1, flat: true}
		for b.Loop() {
			p.work.Price(p.l, m)
		}
	})
}

func BenchmarkCheapest(b *testing.B) {
	timed(b, func(b *testing.B, p *Priced) {
		for b.Loop() {
			p.work.anew(p.l)
			p.Forward().Cheapest()
		}
	})
}

func BenchmarkMarginals(b *testing.B) {
	timed(b, func(b *testing.B, p *Priced) {
		for b.Loop() {
			p.work.anew(p.l)
			p.Forward().Backward()
		}
	})
}

func BenchmarkPosterior(b *testing.B) {
	timed(b, func(b *testing.B, p *Priced) {
		for b.Loop() {
			p.work.anew(p.l)
			p.Posterior()
		}
	})
}

func BenchmarkMostAgreement(b *testing.B) {
	timed(b, func(b *testing.B, p *Priced) {
		gain := make([]int64, p.l.Total())
		for i := range gain {
			gain[i] = int64(i%7) * Agreement / 7
		}
		for b.Loop() {
			p.work.anew(p.l)
			p.MostAgreement(gain, nil)
		}
	})
}

// What is remembered at a tenth of the events has changed.
func BenchmarkPosteriorAgain(b *testing.B) {
	timed(b, func(b *testing.B, p *Priced) {
		extra := make([]int32, p.l.Total())
		p.Posterior()
		for b.Loop() {
			for e := 0; e < p.l.Events(); e += 10 {
				extra[p.l.first[e]] = Nat - extra[p.l.first[e]]
			}
			p = p.With(extra)
			p.Posterior()
		}
	})
}
