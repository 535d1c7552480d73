// Package programruns takes scores through the program, whole or as far as a measurement looks, with the shipped
// weights.
package programruns

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"golang.org/x/sync/errgroup"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/policies"
)

// Of makes the run of a score for two hands that stands alone.
func Of(name string, data []byte, policy *policies.Policy) *pipeline.PieceRun {
	piece := &corpus.Piece{ID: name, Score: name, Scoring: corpus.TwoHands}
	return &pipeline.PieceRun{Piece: piece, Data: data, Policy: policy, Weights: pipeline.ShippedWeights()}
}

// OfFile makes the run of a score for two hands; one that cannot be read fails when it is worked on.
func OfFile(path string, policy *policies.Policy) *pipeline.PieceRun {
	data, err := os.ReadFile(path)
	w := Of(filepath.Base(path), data, policy)
	if err != nil {
		w.Piece.Fault = fmt.Errorf("reading a score: %w", err)
	}
	return w
}

// OfPiece makes the run of a piece of a collection, its witnesses left out.
func OfPiece(c *corpus.Collection, piece *corpus.Piece, policy *policies.Policy) (*pipeline.PieceRun, error) {
	data, err := os.ReadFile(c.Path(piece.Score))
	if err != nil {
		return nil, fmt.Errorf("reading a score: %w", err)
	}
	alone := *piece
	alone.Witnesses = nil
	return &pipeline.PieceRun{Piece: &alone, Data: data, Policy: policy, Weights: pipeline.ShippedWeights()}, nil
}

// UpTo works through the stages up to the one named, which is the last.
func UpTo(w *pipeline.PieceRun, last string) error {
	for _, s := range pipeline.Stages {
		if err := s.Run(w); err != nil {
			return err
		}
		if s.Name == last {
			return nil
		}
	}
	return fmt.Errorf("the program has no stage %q", last)
}

// OfCollection works on all pieces of a collection under one policy, on all processors, and gives them in their
// order. A piece that cannot be read is named and left out.
func OfCollection(
	ctx context.Context, out io.Writer, c *corpus.Collection, policy *policies.Policy, visit func(*pipeline.PieceRun),
) error {
	return pipeline.Run(ctx, JobOf(c, policy), func(w *pipeline.PieceRun, failed error) error {
		if failed != nil {
			fmt.Fprintf(out, "left out: %v\n", failed)
			return nil
		}
		visit(w)
		return nil
	})
}

// InOrder works on n things on all processors, and gives what came of each in their order, one at a time.
func InOrder[T any](n int, work func(i int) T, give func(T)) {
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	var lock sync.Mutex
	done, next := make([]func(), n), 0
	for i := range n {
		g.Go(func() error {
			out := work(i)
			lock.Lock()
			defer lock.Unlock()
			for done[i] = func() { give(out) }; next < n && done[next] != nil; next++ {
				done[next]()
				done[next] = nil
			}
			return nil
		})
	}
	_ = g.Wait() // none fails
}

// JobOf is the work on a collection under one policy, on all processors.
func JobOf(c *corpus.Collection, policy *policies.Policy) pipeline.Job {
	return pipeline.Job{
		Collection: c, Weights: pipeline.ShippedWeights(), Workers: runtime.GOMAXPROCS(0),
		PolicyOf: func(*corpus.Piece) (*policies.Policy, error) { return policy, nil },
	}
}
