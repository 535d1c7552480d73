package main

import (
	"context"
	"fmt"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/strictyaml"
	"fingerproof/pipeline"

	"golang.org/x/sync/errgroup"
)

// eachPiece works on every piece at once, as many as there are workers, and
// gives the answers in the collection's order. A piece that fails is an answer
// too: do says how.
func eachPiece[T any](ctx context.Context, job pipeline.Job, do func(*corpus.Piece) T) ([]T, error) {
	out := make([]T, len(job.Collection.Pieces))
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(job.Workers)
	for i := range job.Collection.Pieces {
		group.Go(func() error {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			out[i] = do(&job.Collection.Pieces[i])
			return nil
		})
	}
	return out, group.Wait()
}

// keepOnly keeps the pieces of a collection that are named; none named keeps all.
func keepOnly(c *corpus.Collection, ids []string) error {
	if len(ids) == 0 {
		return nil
	}
	var kept []corpus.Piece
	for _, id := range ids {
		found := false
		for _, p := range c.Pieces {
			if p.ID == id {
				kept, found = append(kept, p), true
			}
		}
		if !found {
			return fmt.Errorf("there is no piece %q in the collection\nhint: a piece is named by its id: %s",
				id, nearestPiece(c, id))
		}
	}
	c.Pieces = kept
	return nil
}

// idsOf lists the ids of a collection's pieces.
func idsOf(c *corpus.Collection) []string {
	ids := make([]string, len(c.Pieces))
	for i := range c.Pieces {
		ids[i] = c.Pieces[i].ID
	}
	return ids
}

// nearestPiece is a hint: the id that looks most like the one given, or those there are.
func nearestPiece(c *corpus.Collection, id string) string {
	ids := idsOf(c)
	if near := strictyaml.Nearest(id, ids); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return strings.Join(ids[:min(len(ids), 12)], ", ")
}
