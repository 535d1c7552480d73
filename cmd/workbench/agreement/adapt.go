package agreement

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/pipeline/4_services/habits"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
)

// adapting measures what adapting the weights to decided digits does to the pieces that come later.
type adapting struct {
	shared    string
	composers []string
	steps     []int
	settings  fit.Settings
	windows   bool
}

func adaptCommand() *cobra.Command {
	m := &adapting{settings: fit.AdaptSettings()}
	m.settings.Aims = training.HabitSettings().Aims
	return measurement.Measurement{
		Use:   "adapt",
		Short: "measure what adapting the weights to decided digits does to the pieces that come later",
		Long: `adapt takes a composer's pieces of the fingered material in the order of the index (by opus), with
weights fitted to all others, as if an editor decided their printed digits one piece after the other:
after so many digits the weights are adapted to these, as fit COLLECTION does, and the later pieces are
fingered with both. Later pieces are those that hold none of the digits of the largest step. The settings
of the adapting were chosen on Diabelli, Chopin, Verdi, Stojowski, Różycki, Łodwigowski, Czerny and
Joteyko; nothing was chosen on Clementi, Wieniawski and Hanon, which are reported.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringSliceVar(&m.composers, "composers", []string{"Clementi", "Wieniawski", "Hanon"},
				"whose pieces, by a part of the name")
			f.IntSliceVar(&m.steps, "digits", []int{500, 2000}, "after how many decided digits")
			f.BoolVar(&m.windows, "windows", false, "adapt the wide surroundings of a note too, which the shipped table leaves out")
			adaptFlags(f, &m.settings)
		},
		Run: func(_ context.Context, out io.Writer, _ []string) error {
			pieces, err := opendata.ReadPieces(opendata.Place(m.shared, "fingered"))
			if err != nil {
				return err
			}
			slices.Sort(m.steps)
			if m.windows {
				m.settings.Skip = nil
			}
			for _, name := range m.composers {
				if err := m.composer(out, pieces, name); err != nil {
					return err
				}
			}
			return nil
		},
	}.Command()
}

// composer adapts to the pieces of one composer, step by step.
func (m *adapting) composer(out io.Writer, pieces []*opendata.Piece, name string) error {
	var theirs []*opendata.Piece
	for _, p := range pieces {
		if strings.Contains(p.Composer, name) {
			theirs = append(theirs, p)
		}
	}
	if len(theirs) == 0 {
		return fmt.Errorf("the fingered material has nothing by %q", name)
	}
	others := func(p *opendata.Piece) bool { return !slices.Contains(theirs, p) }
	base := training.On(pieces, others, training.HabitSettings(), "without "+name, training.Prune)
	digits := 0
	var later []*opendata.Piece
	for _, p := range theirs {
		if digits < m.steps[len(m.steps)-1] {
			digits += p.Clean
		} else {
			later = append(later, p)
		}
	}
	got := agreeing(later, base)
	fmt.Fprintf(out, "%s: %d pieces, %d later ones with %d digits\n", name, len(theirs), len(later), got[1])
	fmt.Fprintf(out, "  after %5d digits  %s\n", 0, figures.Share(got))
	knownAgain(out, theirs, later, m.steps[len(m.steps)-1], base)
	for _, n := range m.steps {
		lines, used := decidedLines(theirs, n)
		o := habits.Adapt(lines, base, training.Hand, m.settings)
		terms, changed := o.Changes.Numbers()
		fmt.Fprintf(out, "  after %5d digits  %s  (%d %% of the change, %d %% of what is remembered; of the decided ones %s before, %s after;",
			used, figures.Share(agreeing(later, base.Plus(o.Changes))), o.Strength.Percent, o.Strength.Memory,
			figures.Share([2]int{o.Before, o.Foretold}), figures.Share([2]int{o.After, o.Foretold}))
		fmt.Fprintf(out, " %d terms and %d habits changed)\n", terms, changed)
	}
	return nil
}

// decidedLines takes the first n clean digits of pieces in their order, or as many as there are, as decided.
func decidedLines(pieces []*opendata.Piece, n int) (out []habits.DecidedLine, used int) {
	for _, p := range pieces {
		if used >= n {
			break
		}
		var decided [2]map[int]fingering.Finger
		for i := range p.Rows {
			if r := &p.Rows[i]; r.Clean && used < n {
				if decided[r.Hand] == nil {
					decided[r.Hand] = map[int]fingering.Finger{}
				}
				decided[r.Hand][i] = r.Finger
				used++
			}
		}
		for h := range p.Lines {
			out = append(out, habits.DecidedLine{Piece: p.Name, Hand: fingering.Hand(h), Notes: p.Lines[h], Decided: decided[h]})
		}
	}
	return out, used
}

// agreeing counts the clean digits that the engine finds, none of them given, and all of them.
func agreeing(pieces []*opendata.Piece, w *effort.Weights) (got [2]int) {
	var worker engine.Worker
	for _, p := range pieces {
		for h := range p.Lines {
			for _, n := range worker.Finger(fingering.Hand(h), training.Hand, w, p.Lines[h], engine.Options{Aims: training.HabitSettings().Aims}).Notes {
				if r := p.Row(n.ID); r.Clean {
					got[1]++
					if n.Finger == r.Finger {
						got[0]++
					}
				}
			}
		}
	}
	return got
}
