package suggestions

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"runtime"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/parallel"
)

// returns measures how far passages that return are fingered alike.
type returns struct {
	policy *policies.Policy
	every  int
	list   bool
}

func returnsCommand() *cobra.Command {
	m := &returns{}
	var policy, shared string
	var folds int
	var cross bool
	return measurement.Measurement{
		Use:   "returns PATH...",
		Short: "measure how far passages that return are fingered alike",
		Long: `returns fingers every score of the collections and folders named, with the policy's memory of returns and
without it, and gives how many notes of returns are taken by the finger of the first passage, by kind of
return. Digits that stand in the text bind as the policy says; "free" counts only notes of passages
without such digits.

With --cross it measures instead, on the tables of the fingered material, how many clean printed digits
agree with the engine with memory and without, fitted on the other folds: the same figures as evaluate's
"engine alone".`,
		Args: cobra.ArbitraryArgs,
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&policy, "policy", "default", "policy file or shipped style")
			opendata.FolderFlag(f, &shared)
			f.IntVar(&m.every, "every", 1, "take every n-th score")
			f.IntVar(&folds, "folds", 5, "how many of the five folds to measure with --cross")
			f.BoolVar(&cross, "cross", false, "measure agreement with printed digits, cross-validated")
			f.BoolVar(&m.list, "list", false, "list every piece")
		},
		Run: func(_ context.Context, out io.Writer, args []string) (err error) {
			if m.policy, err = policies.Open(policy, "."); err != nil {
				return err
			}
			if cross {
				pieces, err := opendata.ReadPieces(opendata.Place(shared, "fingered"))
				if err != nil {
					return err
				}
				return crossReturns(out, pieces, suggest.MemoryOf(m.policy), folds)
			}
			if len(args) == 0 {
				return fmt.Errorf("nothing to measure\nhint: name folders of scores, or --cross")
			}
			return m.measure(out, args)
		},
	}.Command()
}

// alike counts notes of returns and those with the finger of the first passage, by kind, all and in passages without
// digits.
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
		all, free := a[k][0], a[k][1]
		out += fmt.Sprintf("%s %s of %d, free %s of %d;  ",
			parallel.Kind(k), figures.Share(all), all[1], figures.Share(free), free[1])
	}
	return out
}

func (m *returns) measure(out io.Writer, paths []string) error {
	var scores []string
	for _, path := range paths {
		c, err := opendata.EveryNth(path, m.every)
		if err != nil {
			return err
		}
		for i := range c.Pieces {
			if c.Pieces[i].Fault == nil {
				scores = append(scores, c.Path(c.Pieces[i].Score))
			}
		}
	}
	settings := []*policies.Policy{m.policy.WithoutReturns(), m.policy}
	names := []string{"without memory of returns", "with it"}
	type measured struct {
		alike [2]alike
		time  [2]time.Duration
		notes int
		err   error
	}
	all := make([]measured, len(scores))
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i, path := range scores {
		g.Go(func() error {
			m := &all[i]
			for s, p := range settings {
				w := programruns.OfFile(path, p)
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
		one := &all[i]
		if one.err != nil {
			fmt.Fprintf(out, "%s: %v\n", filepath.Base(scores[i]), one.err)
			continue
		}
		read++
		sum.notes += one.notes
		for s := range settings {
			sum.alike[s].join(one.alike[s])
			sum.time[s] += one.time[s]
		}
		if m.list {
			fmt.Fprintf(out, "%s: %s\n", filepath.Base(scores[i]), one.alike[1].String())
		}
	}
	fmt.Fprintf(out, "%d scores, %d notes\n", read, sum.notes)
	for s := range settings {
		fmt.Fprintf(out, "%s: %s time %.1f s\n", names[s], sum.alike[s].String(), sum.time[s].Seconds())
	}
	return nil
}
