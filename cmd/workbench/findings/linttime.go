package findings

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"
)

func lintTimeCommand() *cobra.Command {
	return measurement.Measurement{
		Use:   "lint-time PATH",
		Short: "measure how much faster lint is from given results than reading and parsing the scores",
		Long: `lint-time takes a folder or a collection through the whole program once and keeps the results. Then it
measures, three times in turn and on one worker, reading and parsing every score, and lint from the
results, the sums of every input checked. It prints the best times and the ratios.`,
		Args:  cobra.ExactArgs(1),
		Fails: "lint from results is not faster than reading and parsing",
		Run: func(ctx context.Context, out io.Writer, args []string) error {
			return measureLint(ctx, out, args[0])
		},
	}.Command()
}

func measureLint(ctx context.Context, out io.Writer, path string) error {
	c, err := corpus.Open(path)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "fingerproof-lint-time-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	job := programruns.JobOf(c, policies.Default())
	job.Workers = 1
	notes, findings, failed := 0, 0, 0
	began := time.Now()
	if err := pipeline.Run(ctx, job, func(w *pipeline.PieceRun, fault error) error {
		if fault != nil {
			failed++
			return nil
		}
		notes += len(w.Result.Notes)
		findings += len(w.Result.Findings)
		data, err := state.Encode(w.Result)
		if err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(dir, w.Piece.ID+".json"), data, 0o644)
	}); err != nil {
		return err
	}
	whole := time.Since(began)
	job.Results = func(p *corpus.Piece) (*state.Result, error) {
		f, err := os.Open(filepath.Join(dir, p.ID+".json"))
		if err != nil {
			return nil, nil // the piece failed; it fails again
		}
		defer f.Close()
		return state.DecodeHead(f)
	}
	var parse, given time.Duration
	for range 3 {
		if parse, err = best(parse, func() error { return readAll(c) }); err != nil {
			return err
		}
		if given, err = best(given, func() error { return lintFromResults(ctx, job, findings) }); err != nil {
			return err
		}
	}
	ms := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
	fmt.Fprintf(out, "%d pieces (%d failed), %d notes, %d findings, one worker\n", len(c.Pieces), failed, notes, findings)
	fmt.Fprintf(out, "reading and parsing             %10.1f ms\n", ms(parse))
	fmt.Fprintf(out, "reading, parsing and fingering  %10.1f ms (once, results written)\n", ms(whole))
	fmt.Fprintf(out, "lint from given results         %10.1f ms: ", ms(given))
	fmt.Fprintf(out, "%.1f times as fast as reading and parsing, %.0f times as the whole\n",
		ms(parse)/ms(given), ms(whole)/ms(given))
	if given >= parse {
		return measurement.Failed("lint from results is not faster")
	}
	return nil
}

// lintFromResults lints once more and says so where anything was worked out anew or other findings came out.
func lintFromResults(ctx context.Context, job pipeline.Job, findings int) error {
	again := 0
	err := pipeline.Run(ctx, job, func(w *pipeline.PieceRun, fault error) error {
		switch {
		case fault != nil:
		case w.Stale != "":
			return fmt.Errorf("%s was worked out anew: %s", w.Piece.ID, w.Stale)
		default:
			again += len(w.Result.Findings)
		}
		return nil
	})
	if err == nil && again != findings {
		err = fmt.Errorf("lint from results gave %d findings, the whole program %d", again, findings)
	}
	return err
}

// best runs a job and gives the shorter of its time and the best so far.
func best(so time.Duration, job func() error) (time.Duration, error) {
	began := time.Now()
	err := job()
	if took := time.Since(began); so == 0 || took < so {
		so = took
	}
	return so, err
}

// readAll reads and parses every score; those that cannot be read cost what they cost.
func readAll(c *corpus.Collection) error {
	for i := range c.Pieces {
		p := &c.Pieces[i]
		data, err := os.ReadFile(c.Path(p.Score))
		if err != nil {
			return err
		}
		doc, err := source.Open(p.Score, data, source.DefaultLimits())
		if err != nil {
			continue
		}
		_, _, _ = musicxml.Read(doc, musicxml.DefaultLimits())
	}
	return nil
}
