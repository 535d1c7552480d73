package hands

import (
	"context"
	"io"
	"runtime"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/corpus"
	"fingerproof/policies"
)

// signs holds hands and offers against the hand signs that editions print.
type signs struct {
	policy     *policies.Policy
	list, only bool
	folds      bool
}

func signsCommand() *cobra.Command {
	m := &signs{}
	policy := ""
	return measurement.Measurement{
		Use:   "signs PATH...",
		Short: "hold the hands and what is offered against the hand signs that editions print",
		Long: `signs looks at every place where a hand sign gives notes to the other hand than their staff's, in the
scores of the collections and folders named. It hides the signs (they count as plain words), works out
hands and redistributions again, and counts the places that are known then (the hand is assigned from
the music) or offered (a redistribution to that hand): of the notes struck at the sign, or of all that
it names, one half or more. It does so by kind of place and by folds of whole composers, and gives what
is offered where no sign stands. With the signs read as they are it counts the notes that are not given
to the hand named, and what is offered back. With --folds the thresholds of the policy are chosen anew
without the composers that they are measured on, five folds of whole composers; an interval says how much
so few places tell.`,
		Args:  cobra.MinimumNArgs(1),
		Fails: "a sign that was read is not followed",
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&policy, "policy", "default", "policy file or shipped style")
			f.BoolVar(&m.list, "list", false, "list every place")
			f.BoolVar(&m.folds, "folds", false,
				"instead, choose the thresholds on some composers' places and measure them on the others'")
			f.BoolVar(&m.only, "only", false, "leave out scores without a sign: what is offered in them is not counted then")
		},
		Run: func(ctx context.Context, out io.Writer, paths []string) (err error) {
			if m.policy, err = policies.Open(policy, "."); err != nil {
				return err
			}
			if m.folds {
				return m.blindFolds(ctx, out, paths)
			}
			return m.run(ctx, out, paths)
		},
	}.Command()
}

func (m *signs) run(ctx context.Context, out io.Writer, paths []string) error {
	var all []signPiece
	for _, path := range paths {
		c, err := corpus.Open(path)
		if err != nil {
			return err
		}
		pieces := make([]signPiece, len(c.Pieces))
		g, ctx := errgroup.WithContext(ctx)
		g.SetLimit(runtime.GOMAXPROCS(0))
		for i := range c.Pieces {
			if c.Pieces[i].Fault != nil {
				continue
			}
			g.Go(func() error {
				pieces[i] = m.piece(c, &c.Pieces[i])
				return ctx.Err()
			})
		}
		if err := g.Wait(); err != nil {
			return err
		}
		all = append(all, pieces...)
	}
	count := newSignCount()
	for i := range all {
		count.add(out, &all[i], m.list)
	}
	count.print(out)
	if count.lost+count.back > 0 {
		return measurement.Failed("signs are not followed")
	}
	return nil
}
