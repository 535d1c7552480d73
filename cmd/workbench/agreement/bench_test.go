//go:build unix

package agreement

import (
	"fmt"
	"syscall"
	"testing"
	"time"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/opendatatest"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

func benchmark(b *testing.B, w *effort.Weights, o engine.Options) {
	all := opendatatest.Pieces(b)
	for _, size := range []int{20, len(all)} {
		b.Run(fmt.Sprintf("pieces=%d", size), func(b *testing.B) { of(b, all[:size], w, o) })
	}
}

func of(b *testing.B, pieces []*opendata.Piece, w *effort.Weights, o engine.Options) {
	var worker engine.Worker
	b.ReportAllocs()
	notes, start := 0, processorTime()
	for b.Loop() {
		for _, p := range pieces {
			for h := range p.Hands {
				notes += len(worker.Finger(fingering.Hand(h), hand.NinthHand, w, p.Hands[h], o).Notes)
			}
		}
	}
	b.ReportMetric(float64(notes)/b.Elapsed().Seconds(), "notes/s")
	// On a machine that is busy with other work the clock says little; the processor's time says what one core does.
	b.ReportMetric(float64(notes)/(processorTime()-start).Seconds(), "notes/core-s")
}

// processorTime is the time this process has spent on processors.
func processorTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// The interpretable table, fingering of least effort.
func BenchmarkInterpretableCheapest(b *testing.B) {
	benchmark(b, effort.Interpretable(), engine.Options{Decode: engine.Cheapest})
}

// The delivered fingering and confidence.
func BenchmarkDeliveredDecode(b *testing.B) {
	benchmark(b, effort.Delivered(), engine.Options{})
}

// The delivered fingering with choices and their passages.
func BenchmarkDeliveredChoices(b *testing.B) {
	benchmark(b, effort.Delivered(), engine.Options{Choices: true, Explain: true})
}
