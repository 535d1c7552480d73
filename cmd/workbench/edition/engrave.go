package edition

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/reports/engrave"
	"fingerproof/reports/page"
)

// engraving measures the notation on the pages.
type engraving struct {
	limit, pieces int
	cold          bool

	fingering, drawing, writing, first   time.Duration
	done, failed, excerpts, all, largest int
}

func engraveCommand() *cobra.Command {
	m := &engraving{}
	return measurement.Measurement{
		Use:   "engrave PATH",
		Short: "measure the notation on the pages: excerpts a second, cold and warm, and its share of a run",
		Long: `engrave works out the pieces of PATH, one after the other, and draws the passages that most want judging,
as run does. It says how long it takes to make the engraver ready (with --cold from an empty cache, else
from the one it finds), and how long drawing takes.`,
		Args: cobra.ExactArgs(1),
		Flags: func(f *pflag.FlagSet) {
			f.IntVar(&m.limit, "excerpts", 12, "passages drawn a piece")
			f.IntVar(&m.pieces, "pieces", 0, "only so many pieces, evenly spread; 0: all")
			f.BoolVar(&m.cold, "cold", false, "make the engraver ready from its package in an empty cache")
		},
		Run: m.run,
	}.Command()
}

func (m *engraving) run(ctx context.Context, out io.Writer, args []string) error {
	cache, err := m.cache()
	if err != nil {
		return err
	}
	if m.cold {
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
	c, err := corpus.Open(args[0])
	if err != nil {
		return err
	}
	step := 1
	if n := len(c.Pieces); m.pieces > 0 && n > m.pieces {
		step = n / m.pieces
	}
	for i := 0; i < len(c.Pieces) && (m.pieces == 0 || m.done+m.failed < m.pieces); i += step {
		if err := m.piece(ctx, worker, c, &c.Pieces[i]); err != nil {
			return err
		}
	}
	if m.done == 0 || m.excerpts == 0 {
		return fmt.Errorf("nothing was drawn: %d pieces worked out, %d failed", m.done, m.failed)
	}
	m.print(out, ready)
	return nil
}

// cache is the folder that the engraver is made ready in.
func (m *engraving) cache() (string, error) {
	if m.cold {
		return os.MkdirTemp("", "fingerproof-engraver")
	}
	cache, err := os.UserCacheDir()
	return filepath.Join(cache, "fingerproof"), err
}

// piece works out one piece and draws its page.
func (m *engraving) piece(ctx context.Context, worker *engrave.Worker, c *corpus.Collection, p *corpus.Piece) error {
	begun := time.Now()
	w, err := programruns.OfPiece(c, p, policies.Default())
	if err == nil {
		w.Edition = pipeline.EditionName(p)
		err = pipeline.RunPiece(w)
	}
	if err != nil {
		m.failed++
		return nil
	}
	sheet := page.Of(w, c.Title)
	m.fingering += time.Since(begun)
	begun = time.Now()
	if err := sheet.Draw(ctx, worker, w, m.limit); err != nil {
		return err
	}
	m.drawing += time.Since(begun)
	drawn := len(sheet.Pictures)
	if m.excerpts == 0 && drawn > 0 {
		m.first = time.Since(begun) / time.Duration(drawn)
	}
	m.excerpts += drawn
	begun = time.Now()
	html, err := page.Piece(sheet)
	if err != nil {
		return err
	}
	m.writing += time.Since(begun)
	m.all += len(html)
	m.largest = max(m.largest, len(html))
	m.done++
	return nil
}

func (m *engraving) print(out io.Writer, ready time.Duration) {
	whole := ready + m.fingering + m.drawing + m.writing
	fmt.Fprintf(out, "engraver ready after %.2f s; in the first piece %.0f ms an excerpt\n",
		ready.Seconds(), float64(m.first.Microseconds())/1000)
	fmt.Fprintf(out, "%d pieces (%d failed), %d excerpts in %.2f s: %.1f a second on one core\n",
		m.done, m.failed, m.excerpts, m.drawing.Seconds(), float64(m.excerpts)/m.drawing.Seconds())
	fmt.Fprintf(out, "fingering %.2f s, drawing %.2f s, pages %.2f s: drawing is %.0f %% of the whole\n",
		m.fingering.Seconds(), m.drawing.Seconds(), m.writing.Seconds(), 100*m.drawing.Seconds()/whole.Seconds())
	fmt.Fprintf(out, "pages %.2f MB together, the largest %.2f MB\n", float64(m.all)/1e6, float64(m.largest)/1e6)
}
