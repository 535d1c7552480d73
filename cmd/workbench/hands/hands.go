package hands

import (
	"context"
	"fmt"
	"io"
	"runtime"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/rules/hands"
)

// measuring measures how well the hands are assigned from the music alone.
type measuring struct {
	shared string
	rounds int
	list   bool
}

func handsCommand() *cobra.Command {
	m := &measuring{}
	l := &learning{sources: handSources}
	var stray, wrong, evidence string
	return measurement.Measurement{
		Use:   "hands",
		Short: "measure how well the hands are assigned from the music alone",
		Long: `hands takes the pieces of the fingered material that use both hands and have no note on the other hand's
staff, forgets who plays what, and assigns the hands again from onset, duration and pitch: split at
middle C, split by the nearest running position of a hand, and by the search over both hands, with the
shipped weights and with weights fitted on the other folds (works never divided). Every note element but
grace notes counts, notes tied on among them.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringVar(&stray, "stray", "",
				"instead, count the notes of a folder that the hand of the other staff plays, by sign or position")
			f.StringVar(&evidence, "evidence", "",
				"instead, hold the hands of the scores in a folder against what these show: staff, voices over to the "+
					"other staff, beams, slurs, stems, digits that fit one hand only")
			f.IntVar(&m.rounds, "rounds", 3, "rounds of fitting; 0 leaves the weights fitted on folds out")
			f.BoolVar(&m.list, "list", false, "list every piece")
			f.StringVar(&wrong, "wrong", "", "instead, draw the moments about the notes of a piece that get the wrong hand")
			f.StringSliceVar(&l.folders, "learn", nil,
				"instead, fit the weights to the staves of the scores in these folders and print rules/hands/weights.json")
			f.StringVar(&l.sources, "sources", l.sources, "what the learned table says of its sources and their licences")
			f.IntVar(&l.every, "every", 1, "take every n-th score when learning")
		},
		Run: func(_ context.Context, out io.Writer, _ []string) error {
			if stray != "" {
				return measureStray(out, stray)
			}
			if evidence != "" {
				return measureEvidence(out, evidence, m.list)
			}
			pieces, err := readHands(opendata.Place(m.shared, "fingered"))
			switch {
			case err != nil:
				return err
			case len(l.folders) > 0:
				l.rounds = m.rounds
				return l.run(out, pieces)
			case wrong != "":
				return listWrongHands(out, pieces, wrong)
			}
			return m.run(out, pieces)
		},
	}.Command()
}

// assigners are what is measured, the weights of the other folds aside.
var assigners = []struct {
	name   string
	assign func([]hands.Keystroke) []score.Hand
}{
	{"split at middle C", hands.AtMiddleC},
	{"nearest running position", hands.Nearest},
	{"search, shipped weights", hands.Infer},
}

func (m *measuring) run(out io.Writer, pieces []handPiece) error {
	names := []string{}
	for _, a := range assigners {
		names = append(names, a.name)
	}
	var learned [5]*hands.Table
	if m.rounds > 0 {
		names = append(names, "search, weights of the other folds")
		learned = m.fitFolds(pieces)
	}
	counts := make([][4][2]int, len(pieces))
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i := range pieces {
		g.Go(func() error {
			p := &pieces[i]
			blind := p.blind()
			for k, a := range assigners {
				counts[i][k] = p.right(a.assign(blind))
			}
			if t := learned[p.fold]; t != nil {
				counts[i][len(assigners)] = p.right(t.Infer(blind))
			}
			return nil
		})
	}
	_ = g.Wait() // nothing of it fails
	var sum [4][2]int
	for i, c := range counts {
		for k := range sum {
			sum[k][0] += c[k][0]
			sum[k][1] += c[k][1]
		}
		if m.list {
			fmt.Fprintf(out, "%s: %s %s %s %s of %d\n", pieces[i].name,
				figures.Share(c[0]), figures.Share(c[1]), figures.Share(c[2]), figures.Share(c[3]), c[0][1])
		}
	}
	fmt.Fprintf(out, "%d pieces, %d notes\n", len(pieces), sum[0][1])
	for k, name := range names {
		fmt.Fprintf(out, "%-36s %s\n", name, figures.Share(sum[k]))
	}
	return nil
}

// fitFolds fits weights without each fold.
func (m *measuring) fitFolds(pieces []handPiece) (out [5]*hands.Table) {
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for fold := range out {
		g.Go(func() error {
			var train []hands.Example
			for _, p := range pieces {
				if p.fold != fold {
					train = append(train, p.notes)
				}
			}
			out[fold] = hands.Fit(train, m.rounds)
			return nil
		})
	}
	_ = g.Wait() // nothing of it fails
	return out
}
