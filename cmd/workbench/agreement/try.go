package agreement

import (
	"context"
	"fmt"
	"io"
	"os"
	"runtime"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
)

// trying measures other settings of the fit.
type trying struct {
	shared   string
	folds    []int
	settings fit.Settings
	prune    float64
	hides    int
}

func tryCommand() *cobra.Command {
	m := &trying{settings: fit.Defaults()}
	return measurement.Measurement{
		Use:   "try",
		Short: "measure other settings of the fit, cross-validated",
		Long: `try fits with the settings given and measures all folds: the fingering of least effort, that of most
expected agreement, hidden fifths.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.IntSliceVar(&m.folds, "folds", []int{0, 1, 2, 3, 4}, "the folds to measure")
			f.BoolVar(&m.settings.Habit, "habit", m.settings.Habit, "fit habits beside terms")
			adaptFlags(f, &m.settings)
			f.IntVar(&m.settings.Labels, "labels", m.settings.Labels, "setting of the fit")
			f.StringSliceVar(&m.settings.Skip, "skip", m.settings.Skip, "habits to leave out")
			f.Float64Var(&m.settings.Keep, "keep", m.settings.Keep, "setting of the fit")
			f.IntVar(&m.hides, "hides", 1, "how many hidden fifths to measure")
			f.Float64Var(&m.prune, "prune", 0, "price in nats below which a habit is left out")
		},
		Run: m.run,
	}.Command()
}

// adaptFlags adds the settings that a fit and an adaption share.
func adaptFlags(f *pflag.FlagSet, s *fit.Settings) {
	f.Float64Var(&s.TermRate, "term-rate", s.TermRate, "setting of the fit")
	f.Float64Var(&s.HabitRate, "habit-rate", s.HabitRate, "setting of the fit")
	f.Float64Var(&s.HabitDamp, "habit-damp", s.HabitDamp, "setting of the fit")
	f.Float64Var(&s.Decay, "decay", s.Decay, "setting of the fit")
	f.Float64Var(&s.HabitDecay, "habit-decay", s.HabitDecay, "setting of the fit")
	f.IntVar(&s.Epochs, "epochs", s.Epochs, "setting of the fit")
	f.IntVar(&s.MinCount, "min-count", s.MinCount, "setting of the fit")
}

func (m *trying) run(_ context.Context, out io.Writer, _ []string) error {
	pieces, err := opendata.ReadPieces(opendata.Place(m.shared, "fingered"))
	if err != nil {
		return err
	}
	var got [5][3]tally
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	start := time.Now()
	for _, fold := range m.folds {
		g.Go(func() error {
			w := training.Without(pieces, fold, m.settings, "try", m.prune)
			_, habits := w.Numbers()
			fmt.Fprintln(os.Stderr, "fold", fold, "trained", time.Since(start), habits)
			var worker engine.Worker
			least := engine.Options{Decode: engine.Cheapest, Choices: true}
			agreement := engine.Options{Decode: engine.MostAgreement, Choices: true}
			for _, p := range pieces {
				if p.Fold != fold {
					continue
				}
				got[fold][0].measure(&worker, p, w, least, -1)
				got[fold][1].measure(&worker, p, w, agreement, -1)
				for hide := range m.hides {
					got[fold][2].measure(&worker, p, w, agreement, hide)
				}
			}
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	for d := range 3 {
		t := tally{}
		for f := range got {
			o := got[f][d]
			t.all, t.right, t.two = t.all+o.all, t.right+o.right, t.two+o.two
		}
		fmt.Fprintf(out, "decode %d: %.4f best two %.4f of %d\n",
			d, float64(t.right)/float64(t.all), float64(t.two)/float64(t.all), t.all)
	}
	return nil
}

// tally counts clean digits, those that agree, and those among the best two.
type tally struct{ all, right, two int }

// measure fingers a piece; with hide 0 to 4 the digits but those of that fifth are given, and these are counted.
func (t *tally) measure(w *engine.Worker, p *opendata.Piece, weights *effort.Weights, o engine.Options, hide int) {
	for h := range p.Hands {
		hand := fingering.Hand(h)
		for _, n := range w.Finger(hand, training.Hand, weights, constrained(p, hand, hide), o).Notes {
			row := p.Rows[n.ID]
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
