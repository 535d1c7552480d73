package agreement

import (
	"fmt"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
)

func tryCommand() *cobra.Command {
	var data string
	var folds []int
	s := fit.Defaults()
	prune, hides := 0.0, 0
	c := &cobra.Command{
		Use:   "try",
		Short: "measure other settings of the fit, cross-validated",
		Long:  "try fits with the settings given and measures all folds: cheapest way, most expected agreement, hidden fifths.\n\nEXIT STATUS\n  0  measured\n  2  the work could not be done",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			pieces, err := opendata.ReadPieces(filepath.Join(data, "data", "fingered"))
			if err != nil {
				return err
			}
			var out [5][3]tally
			var g errgroup.Group
			g.SetLimit(2)
			start := time.Now()
			for _, fold := range folds {
				g.Go(func() error {
					w := training.Without(pieces, fold, s, "try", prune)
					n := 0
					for _, h := range w.Habit {
						n += len(h)
					}
					fmt.Fprintln(cmd.ErrOrStderr(), "fold", fold, "trained", time.Since(start), n)
					var worker engine.Worker
					for _, p := range pieces {
						if p.Fold == fold {
							out[fold][0].measure(&worker, p, w, engine.Options{Decode: engine.Cheapest, Choices: true}, -1)
							out[fold][1].measure(&worker, p, w, engine.Options{Decode: engine.MostAgreement, Choices: true}, -1)
							for k := range hides {
								out[fold][2].measure(&worker, p, w, engine.Options{Decode: engine.MostAgreement, Choices: true}, k)
							}
						}
					}
					return nil
				})
			}
			_ = g.Wait()
			for d := range 3 {
				t := tally{}
				for f := range out {
					o := out[f][d]
					t.all, t.right, t.two = t.all+o.all, t.right+o.right, t.two+o.two
				}
				fmt.Fprintf(cmd.OutOrStdout(), "decode %d: %.4f best two %.4f of %d\n", d, float64(t.right)/float64(t.all), float64(t.two)/float64(t.all), t.all)
			}
			return nil
		},
	}
	f := c.Flags()
	f.StringVar(&data, "shared", opendata.Folder(), "folder of shared material")
	f.IntSliceVar(&folds, "folds", []int{0, 1, 2, 3, 4}, "")
	f.BoolVar(&s.Habit, "habit", s.Habit, "")
	f.Float64Var(&s.TermRate, "term-rate", s.TermRate, "")
	f.Float64Var(&s.HabitRate, "habit-rate", s.HabitRate, "")
	f.Float64Var(&s.HabitDamp, "damp", s.HabitDamp, "")
	f.Float64Var(&s.Decay, "decay", s.Decay, "")
	f.Float64Var(&s.HabitDecay, "habit-decay", s.HabitDecay, "")
	f.IntVar(&s.Epochs, "epochs", s.Epochs, "")
	f.IntVar(&s.MinCount, "min-count", s.MinCount, "")
	f.IntVar(&s.Labels, "labels", s.Labels, "")
	f.StringSliceVar(&s.Skip, "skip", s.Skip, "")
	f.Float64Var(&s.Keep, "keep", s.Keep, "")
	f.IntVar(&hides, "hides", 1, "")
	f.Float64Var(&prune, "prune", 0, "")
	return c
}

type tally struct{ all, right, two, notes int }

func (t *tally) measure(w *engine.Worker, p *opendata.Piece, weights *effort.Weights, options engine.Options, hide int) {
	for h := range p.Hands {
		notes := constrained(p, fingering.Hand(h), hide)
		r := w.Finger(fingering.Hand(h), training.Hand, weights, notes, options)
		for _, n := range r.Notes {
			row := p.Rows[n.ID]
			t.notes++
			if !row.Clean || hide >= 0 && !row.Hidden[hide] {
				continue
			}
			t.all++
			if n.Finger == row.Finger {
				t.right++
				t.two++
			} else if len(n.Choices) > 0 && n.Choices[0].Finger == row.Finger {
				t.two++
			}
		}
	}
}
