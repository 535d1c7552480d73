package hands

import (
	"fmt"
	"testing"

	"fingerproof/rules/fingering"
)

// The time taken grows with the number of notes, and no faster.
func BenchmarkInfer(b *testing.B) {
	one, _ := tune()
	for _, times := range []int{10, 100, 1000} {
		var notes []Keystroke
		for k := range times {
			for _, n := range one {
				n.Onset, n.End = later(n.Onset, k), later(n.End, k)
				notes = append(notes, n)
			}
		}
		b.Run(fmt.Sprintf("%d notes", len(notes)), func(b *testing.B) {
			for b.Loop() {
				Infer(notes)
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(notes)), "µs/note")
		})
	}
}

// later moves a moment of the tune, counted in sixteenths, by so many of the lengths of the tune.
func later(m fingering.Moment, times int) fingering.Moment {
	return fingering.Moment{Num: m.Num + int64(32*times), Den: m.Den}
}
