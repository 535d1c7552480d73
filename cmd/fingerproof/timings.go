package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"slices"
	"sync/atomic"
	"time"

	"fingerproof/corpus"
	"fingerproof/pipeline"
)

// timings takes for each piece how long it took and how much memory this program had at most meanwhile. Pieces are
// worked on one after the other for it, since memory has no names on it.
type timings struct {
	pieces []timing
	began  time.Time
	peak   atomic.Uint64
	stop   chan struct{}

	stages []stageTime // in the order in which they were first seen
}

// stageTime is what a part of the work took over all pieces.
type stageTime struct {
	stage string
	took  time.Duration
}

// stage begins a part of the work, and gives what ends it. Pieces are worked on one after the other.
func (t *timings) stage(name string) (done func()) {
	begun := time.Now()
	return func() {
		k := slices.IndexFunc(t.stages, func(s stageTime) bool { return s.stage == name })
		if k < 0 {
			k, t.stages = len(t.stages), append(t.stages, stageTime{stage: name})
		}
		t.stages[k].took += time.Since(begun)
	}
}

type timing struct {
	piece string
	took  time.Duration
	peak  uint64 // bytes
}

// lookEvery is how often memory is looked at.
const lookEvery = 5 * time.Millisecond

// take has a job timed; nil times nothing.
func (t *timings) take(job *pipeline.Job) {
	if t == nil {
		return
	}
	job.Workers = 1
	job.Staged = t.stage
	if after := job.After; after != nil {
		job.After = func(ctx context.Context, w *pipeline.PieceRun) error {
			defer t.stage("the page, with its notation")()
			return after(ctx, w)
		}
	}
	t.stop = make(chan struct{})
	job.Before = func(p *corpus.Piece) {
		t.end()
		debug.FreeOSMemory() // what the piece before left is not this one's
		t.pieces = append(t.pieces, timing{piece: p.ID})
		t.peak.Store(0)
		t.began = time.Now()
	}
	go func() {
		for tick := time.NewTicker(lookEvery); ; {
			select {
			case <-tick.C:
				t.look()
			case <-t.stop:
				tick.Stop()
				return
			}
		}
	}()
}

func (t *timings) look() {
	now := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	metrics.Read(now)
	used := now[0].Value.Uint64() - now[1].Value.Uint64()
	for old := t.peak.Load(); used > old && !t.peak.CompareAndSwap(old, used); old = t.peak.Load() {
	}
}

// end closes the timing of the piece before.
func (t *timings) end() {
	if k := len(t.pieces) - 1; k >= 0 && t.pieces[k].took == 0 {
		t.look()
		t.pieces[k].took, t.pieces[k].peak = time.Since(t.began), t.peak.Load()
	}
}

// write prints the timings, the slowest piece first.
func (t *timings) write(out io.Writer) {
	if t == nil {
		return
	}
	t.end()
	close(t.stop)
	slices.SortStableFunc(t.pieces, func(a, b timing) int { return cmp.Compare(b.took, a.took) })
	var sum time.Duration
	var most uint64
	for _, p := range t.pieces {
		fmt.Fprintf(out, "%9.3f s %6d MiB  %s\n", p.took.Seconds(), p.peak>>20, p.piece)
		sum, most = sum+p.took, max(most, p.peak)
	}
	for _, s := range t.stages {
		fmt.Fprintf(out, "%9.3f s             stage: %s\n", s.took.Seconds(), s.stage)
	}
	fmt.Fprintf(out, "%9.3f s %6d MiB  in all, at most; one piece after the other, %s\n", sum.Seconds(), most>>20,
		runtime.Version())
}
