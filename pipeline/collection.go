package pipeline

import (
	"context"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"

	"golang.org/x/sync/errgroup"
	"golang.org/x/sync/semaphore"
)

// Job says how a collection is run.
type Job struct {
	Collection *corpus.Collection
	PolicyOf   func(*corpus.Piece) (*policies.Policy, error)
	Weights    *Weights
	Workers    int                                              // pieces worked on at once, at least 1
	Edition    bool                                             // make marked scores
	Decisions  func(*corpus.Piece) ([]decision.Decision, error) // nil where there are none
	Today      string                                           // by which stets expire, 2026-03-01; "" for none
	Press      bool                                             // print decided digits only
	Unedited   bool                                             // lint of scores that no manifest lists
	Kept       *Kept                                            // where stages keep what they came to; may be nil
	// Results gives the results of an earlier run on the piece, without their notes, nil where there are none. They
	// are taken in place of the work where they stand on the same inputs; nil: everything is worked out.
	Results func(*corpus.Piece) (*state.Result, error)
	// Known says of a run that has its inputs and nothing else that it needs no work: it has put in what an earlier run
	// came to. It is called on the goroutine that works on the piece; its error is the piece's. May be nil.
	Known func(*PieceRun) (bool, error)
	// Before is called with each piece before anything is done with it, on the goroutine that works on it. May be nil.
	Before func(*corpus.Piece)
	// Staged is called before each stage of a piece, and what it gives after the stage. May be nil.
	Staged func(stage string) (done func())
	// After is called with each piece that was worked on, on the goroutine that worked on it; its error is the
	// piece's. May be nil.
	After func(context.Context, *PieceRun) error
}

// memoryInFlight bounds the summed size of the score files that are being
// worked on, times what working on one takes.
const (
	memoryInFlight = 2 << 30
	memoryPerByte  = 60 // measured: text, music, layout, tables, marked text
	packedFactor   = 12 // .mxl files unpack to about this much text
)

// Run works on all pieces at once and hands them to done one by one in the
// collection's order, with the error of a piece that failed. The outcome of
// each is the same for any number of workers. done runs on one goroutine; its
// error, and the end of ctx, stop everything.
func Run(ctx context.Context, job Job, done func(run *PieceRun, failed error) error) error {
	group, ctx := errgroup.WithContext(ctx)
	room := semaphore.NewWeighted(memoryInFlight)
	slots := make(chan struct{}, max(job.Workers, 1))
	type outcome struct {
		run    *PieceRun
		failed error
		weight int64
	}
	line := make(chan chan outcome, 4*max(job.Workers, 1))
	group.Go(func() error {
		defer close(line)
		for i := range job.Collection.Pieces {
			piece := &job.Collection.Pieces[i]
			weight := weigh(job.Collection.Path(piece.Score))
			// Taken in order, so that the piece whose turn it is never waits for
			// one that comes after it.
			if err := room.Acquire(ctx, weight); err != nil {
				return err
			}
			select {
			case slots <- struct{}{}:
			case <-ctx.Done():
				return ctx.Err()
			}
			turn := make(chan outcome, 1)
			group.Go(func() error {
				defer func() { <-slots }()
				if job.Before != nil {
					job.Before(piece)
				}
				run, err := job.Work(piece)
				if err == nil && job.After != nil {
					err = job.After(ctx, run)
				}
				turn <- outcome{run, err, weight}
				return nil
			})
			select {
			case line <- turn:
			case <-ctx.Done():
				return ctx.Err()
			}
		}
		return nil
	})
	group.Go(func() error {
		for turn := range line {
			var o outcome
			select {
			case o = <-turn:
			case <-ctx.Done():
				return ctx.Err()
			}
			if err := done(o.run, o.failed); err != nil {
				return err
			}
			room.Release(o.weight)
		}
		return nil
	})
	return group.Wait()
}

// weigh estimates the memory a score takes, at most all there is.
func weigh(path string) int64 { return min(TextSize(path)*memoryPerByte, memoryInFlight) }

// TextSize estimates how many bytes of text a score's file holds, at least 1: packed scores are unpacked for it by a
// usual factor.
func TextSize(path string) int64 {
	info, err := os.Stat(path)
	if err != nil {
		return 1
	}
	size := info.Size()
	if strings.EqualFold(filepath.Ext(path), ".mxl") {
		size *= packedFactor
	}
	return max(size, 1)
}

// Work reads a score's file and takes it through the stages. The run is given
// as far as it came where there is an error.
func (job Job) Work(piece *corpus.Piece) (*PieceRun, error) {
	run, err := job.Open(piece)
	if err != nil {
		return run, err
	}
	if job.Results != nil {
		earlier, err := job.Results(piece)
		if err != nil {
			return run, err
		}
		if run.Stale = stale(run, earlier); run.Stale == "" {
			run.Result = earlier
			return run, nil
		}
	}
	if job.Edition {
		run.Edition = EditionName(piece)
	}
	if job.Known != nil {
		if known, err := job.Known(run); known || err != nil {
			return run, err
		}
	}
	defer run.bundleKept()()
	return run, runStages(run, staged(job.Staged))
}

// Open reads everything that the work on a piece starts from. The run is given
// as far as it came where there is an error.
func (job Job) Open(piece *corpus.Piece) (*PieceRun, error) {
	run := &PieceRun{Piece: piece, Weights: job.Weights, Today: job.Today, Press: job.Press, Unedited: job.Unedited, Kept: job.Kept}
	if piece.Fault != nil {
		return run, piece.Fault
	}
	run.Heads = job.Collection.Heads(piece)
	var err error
	if run.Policy, err = job.PolicyOf(piece); err != nil {
		return run, err
	}
	if run.Data, err = files.Read(job.Collection.Path(piece.Score), files.ScoreLimit); err != nil {
		return run, fmt.Errorf("reading the score: %w", err)
	}
	if job.Decisions != nil {
		if run.Decisions, err = job.Decisions(piece); err != nil {
			return run, err
		}
	}
	for _, witness := range piece.Witnesses {
		data, err := files.Read(job.Collection.Path(witness.Score), files.ScoreLimit)
		if err != nil {
			return run, fmt.Errorf("reading witness %s: %w", witness.Siglum, err)
		}
		run.WitnessData = append(run.WitnessData, data)
	}
	if d := piece.Draft; d != nil && d.Score == "" {
		run.DraftData = run.Data
	} else if d != nil {
		if run.DraftData, err = files.Read(job.Collection.Path(d.Score), files.ScoreLimit); err != nil {
			return run, fmt.Errorf("reading the draft of %s: %w", d.By, err)
		}
	}
	if run.Setting, err = SettingSum(piece, run.WitnessData, run.DraftData); err != nil {
		return run, err
	}
	return run, nil
}

// EditionName is the file name of a piece's edition: that of its score.
func EditionName(p *corpus.Piece) string { return path.Base(p.Score) }
