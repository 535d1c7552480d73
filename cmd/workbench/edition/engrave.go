package edition

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/reports/engrave"
	"fingerproof/reports/page"
)

func engraveCommand() *cobra.Command {
	var limit, pieces int
	var cold bool
	c := &cobra.Command{
		Use:   "engrave PATH",
		Short: "measure the notation on the pages: excerpts a second, cold and warm, and its share of a run",
		Long: `engrave works out the pieces of PATH, one after the other, and draws the passages that most want judging, as run does. It tells
how long it takes to make the engraver ready (with --cold from an empty cache, else from the one it finds), and how long drawing takes.

EXIT STATUS
  0  measured
  2  the work could not be done`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return measureEngraving(cmd, args[0], limit, pieces, cold)
		},
	}
	c.Flags().IntVar(&limit, "excerpts", 12, "passages drawn a piece")
	c.Flags().IntVar(&pieces, "pieces", 0, "only so many pieces, evenly spread; 0: all")
	c.Flags().BoolVar(&cold, "cold", false, "make the engraver ready from its package in an empty cache")
	return c
}

func measureEngraving(cmd *cobra.Command, path string, limit, pieces int, cold bool) error {
	ctx := cmd.Context()
	if ctx == nil {
		ctx = context.Background()
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		return err
	}
	cache = filepath.Join(cache, "fingerproof")
	if cold {
		if cache, err = os.MkdirTemp("", "fingerproof-engraver"); err != nil {
			return err
		}
		defer os.RemoveAll(cache)
	}
	started := time.Now()
	press, err := engrave.Open(ctx, engrave.Options{Package: engrave.FindPackage("."), CacheDir: cache})
	if err != nil {
		return err
	}
	defer press.Close(ctx)
	worker, err := press.Worker(ctx)
	if err != nil {
		return err
	}
	ready := time.Since(started)
	collection, err := corpus.Open(path)
	if err != nil {
		return err
	}
	step := 1
	if n := len(collection.Pieces); pieces > 0 && n > pieces {
		step = n / pieces
	}
	var fingering, drawing, writing, first time.Duration
	done, failed, excerpts, bytes, largest := 0, 0, 0, 0, 0
	weights := pipeline.ShippedWeights()
	for i := 0; i < len(collection.Pieces) && (pieces == 0 || done+failed < pieces); i += step {
		p := &collection.Pieces[i]
		w := &pipeline.PieceRun{Piece: p, Policy: policies.Default(), Weights: weights, Edition: pipeline.EditionName(p)}
		begun := time.Now()
		if w.Data, err = os.ReadFile(collection.Path(p.Score)); err == nil {
			err = pipeline.RunPiece(w)
		}
		if err != nil {
			failed++
			continue
		}
		m := page.Of(w, collection.Title)
		fingering += time.Since(begun)
		begun = time.Now()
		if err := m.Draw(ctx, worker, w, limit); err != nil {
			return err
		}
		drawing += time.Since(begun)
		if excerpts == 0 && len(m.Pictures) > 0 {
			first = time.Since(begun) / time.Duration(len(m.Pictures))
		}
		excerpts += len(m.Pictures)
		begun = time.Now()
		html, err := page.Piece(m)
		if err != nil {
			return err
		}
		writing += time.Since(begun)
		bytes, largest, done = bytes+len(html), max(largest, len(html)), done+1
	}
	if done == 0 || excerpts == 0 {
		return fmt.Errorf("nothing was drawn: %d pieces worked out, %d failed", done, failed)
	}
	out := cmd.OutOrStdout()
	all := ready + fingering + drawing + writing
	fmt.Fprintf(out, "engraver ready after %.2f s; in the first piece %.0f ms an excerpt\n", ready.Seconds(), float64(first.Microseconds())/1000)
	fmt.Fprintf(out, "%d pieces (%d failed), %d excerpts in %.2f s: %.1f a second on one core\n", done, failed, excerpts, drawing.Seconds(), float64(excerpts)/drawing.Seconds())
	fmt.Fprintf(out, "fingering %.2f s, drawing %.2f s, pages %.2f s: drawing is %.0f %% of the whole\n", fingering.Seconds(), drawing.Seconds(), writing.Seconds(), 100*drawing.Seconds()/all.Seconds())
	fmt.Fprintf(out, "pages %.2f MB together, the largest %.2f MB\n", float64(bytes)/1e6, float64(largest)/1e6)
	return nil
}
