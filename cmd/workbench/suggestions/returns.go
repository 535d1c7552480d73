package suggestions

import (
	"fmt"
	"io"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/parallel"
)

func returnsCommand() *cobra.Command {
	var policy, shared string
	var every, folds int
	var cross, list bool
	c := &cobra.Command{
		Use:   "returns PATH...",
		Short: "measure how far passages that return are fingered alike",
		Long: `returns fingers every score of the collections and folders named, with the policy's memory of returns and without it, and tells
how many notes of returns are taken by the finger of the first passage, by kind of return. Digits that stand in the text bind as the policy
says; "free" counts only notes of passages without such digits.

With --cross it measures instead, on the tables of the fingered material, how many clean printed digits agree with the engine with memory and
without, fitted on the other folds: the same figures as evaluate's first column.

EXIT STATUS
  0  measured
  2  the work could not be done`,
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := policies.Open(policy, ".")
			if err != nil {
				return err
			}
			if cross {
				pieces, err := opendata.ReadPieces(filepath.Join(shared, "data", "fingered"))
				if err != nil {
					return err
				}
				return crossReturns(cmd.OutOrStdout(), pieces, suggest.MemoryOf(p), folds)
			}
			if len(args) == 0 {
				return fmt.Errorf("nothing to measure\nhint: name folders of scores, or --cross")
			}
			return measureReturns(cmd.OutOrStdout(), args, p, every, list)
		},
	}
	f := c.Flags()
	f.StringVar(&policy, "policy", "default", "policy file or shipped style")
	f.StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	f.IntVar(&every, "every", 1, "take every n-th score")
	f.IntVar(&folds, "folds", 5, "how many of the five folds to measure with --cross")
	f.BoolVar(&cross, "cross", false, "measure agreement with printed digits, cross-validated")
	f.BoolVar(&list, "list", false, "list every piece")
	return c
}

// alike counts notes of returns and those with the finger of the first passage, by kind, all and in passages without digits.
type alike [3][2][2]int

func (a *alike) add(w *pipeline.PieceRun) {
	for _, r := range w.Returns {
		free := 1
		for k := range r.Later {
			if w.Suggestion.Notes[r.First[k]].Given > 0 || w.Suggestion.Notes[r.Later[k]].Given > 0 {
				free = 0
			}
		}
		for k := range r.Later {
			same := 0
			if w.Suggestion.Notes[r.First[k]].Finger == w.Suggestion.Notes[r.Later[k]].Finger {
				same = 1
			}
			for scope := range free + 1 {
				a[r.Kind][scope][0] += same
				a[r.Kind][scope][1]++
			}
		}
	}
}

func (a *alike) join(b alike) {
	for k := range b {
		for s := range b[k] {
			a[k][s][0], a[k][s][1] = a[k][s][0]+b[k][s][0], a[k][s][1]+b[k][s][1]
		}
	}
}

func (a *alike) String() string {
	out := ""
	for k := range a {
		out += fmt.Sprintf("%s %s of %d, free %s of %d;  ", parallel.Kind(k), figures.Share(a[k][0]), a[k][0][1], figures.Share(a[k][1]), a[k][1][1])
	}
	return out
}

func measureReturns(out io.Writer, paths []string, policy *policies.Policy, every int, list bool) error {
	var scores []string
	for _, path := range paths {
		c, err := corpus.Open(path)
		if err != nil {
			return err
		}
		for i := range c.Pieces {
			if i%max(every, 1) == 0 && c.Pieces[i].Fault == nil {
				scores = append(scores, c.Path(c.Pieces[i].Score))
			}
		}
	}
	settings := []*policies.Policy{policy.WithoutReturns(), policy}
	names := []string{"without memory of returns", "with it"}
	type measured struct {
		alike [2]alike
		time  [2]time.Duration
		notes int
		err   error
	}
	all := make([]measured, len(scores))
	var g errgroup.Group
	g.SetLimit(2)
	for i, path := range scores {
		g.Go(func() error {
			m := &all[i]
			for s, p := range settings {
				w := opendata.WayOf(path, p)
				start := time.Now()
				if m.err = pipeline.RunPiece(w); m.err != nil {
					return nil
				}
				m.time[s] = time.Since(start)
				m.alike[s].add(w)
				m.notes = len(w.Result.Notes)
			}
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	var sum measured
	read := 0
	for i := range all {
		m := &all[i]
		if m.err != nil {
			fmt.Fprintf(out, "%s: %v\n", filepath.Base(scores[i]), m.err)
			continue
		}
		read++
		sum.notes += m.notes
		for s := range settings {
			sum.alike[s].join(m.alike[s])
			sum.time[s] += m.time[s]
		}
		if list {
			fmt.Fprintf(out, "%s: %s\n", filepath.Base(scores[i]), m.alike[1].String())
		}
	}
	fmt.Fprintf(out, "%d scores, %d notes\n", read, sum.notes)
	for s := range settings {
		fmt.Fprintf(out, "%s: %s time %.1f s\n", names[s], sum.alike[s].String(), sum.time[s].Seconds())
	}
	return nil
}

// crossReturns measures clean digits against the engine with memory of returns and without.
func crossReturns(out io.Writer, pieces []*opendata.Piece, worths suggest.Worths, folds int) error {
	var counts [5][2][2]int
	var same [5][2][2]int
	var g errgroup.Group
	g.SetLimit(2)
	for fold := range min(folds, 5) {
		g.Go(func() error {
			weights := training.Without(pieces, fold, training.HabitSettings(), "delivered", training.Prune)
			var worker engine.Worker
			for _, p := range pieces {
				if p.Fold != fold {
					continue
				}
				for with := range 2 {
					fingers := fingerReturns(p, func(r suggest.Remembering) engine.Result {
						return worker.Finger(r.Hand, training.Hand, weights, r.Notes, engine.Options{})
					}, worths, with == 1, &same[fold][with])
					for id, f := range fingers {
						if r := &p.Rows[id]; r.Clean {
							counts[fold][with][1]++
							if f == r.Finger {
								counts[fold][with][0]++
							}
						}
					}
				}
			}
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	var sum, alike [2][2]int
	for fold := range min(folds, 5) {
		for with := range sum {
			for i := range 2 {
				sum[with][i] += counts[fold][with][i]
				alike[with][i] += same[fold][with][i]
			}
		}
		fmt.Fprintf(out, "fold %d: without %s, with memory of returns %s\n", fold, figures.Share(counts[fold][0]), figures.Share(counts[fold][1]))
	}
	fmt.Fprintf(out, "clean digits: without %s, with memory of returns %s of %d\n", figures.Share(sum[0]), figures.Share(sum[1]), sum[0][1])
	fmt.Fprintf(out, "exact returns alike: without %s, with %s of %d\n", figures.Share(alike[0]), figures.Share(alike[1]), alike[0][1])
	return nil
}

// fingerReturns fingers both hands of a piece, with memory of returns or without, and counts exact returns that are alike.
func fingerReturns(p *opendata.Piece, search func(suggest.Remembering) engine.Result, worths suggest.Worths, with bool, same *[2]int) []fingering.Finger {
	var work []suggest.Remembering
	for h := range p.Hands {
		work = append(work, suggest.Remembering{Hand: fingering.Hand(h), Notes: append([]fingering.Note(nil), p.Hands[h]...)})
	}
	returns := parallel.Find(p.Playing())
	if with {
		suggest.Remember(work, returns, worths, func(int) bool { return false }, search)
	}
	out := make([]fingering.Finger, len(p.Rows))
	for _, l := range work {
		for _, n := range search(l).Notes {
			out[n.ID] = n.Finger
		}
	}
	for _, r := range returns {
		if r.Kind != parallel.Exact {
			continue
		}
		for k := range r.Later {
			same[1]++
			if out[r.First[k]] == out[r.Later[k]] {
				same[0]++
			}
		}
	}
	return out
}
