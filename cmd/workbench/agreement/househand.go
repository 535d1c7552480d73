package agreement

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/pipeline/4_services/habits"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"
)

func houseHandCommand() *cobra.Command {
	var shared string
	var composers []string
	var steps []int
	s := fit.AdaptSettings()
	c := &cobra.Command{
		Use:   "house-hand",
		Short: "measure what adapting the weights to decided digits does to the pieces that come later",
		Long: `house-hand takes a composer's pieces of the fingered material in the order of the index (by opus), with weights fitted to all others, as
if an editor decided their printed digits one piece after the other: after so many digits the weights are adapted to these, as fit COLLECTION
does, and the later pieces are fingered with both. Later pieces are those that hold none of the digits of the largest step. The settings of the adapting were chosen on Diabelli, Chopin, Verdi, Stojowski, Różycki, Łodwigowski, Czerny and Joteyko; nothing was chosen on Clementi,
Wieniawski and Hanon, which are reported.

EXIT STATUS
  0  measured
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			pieces, err := opendata.ReadPieces(filepath.Join(shared, "data", "fingered"))
			if err != nil {
				return err
			}
			for _, name := range composers {
				if err := houseHand(cmd.OutOrStdout(), pieces, name, steps, s); err != nil {
					return err
				}
			}
			return nil
		},
	}
	f := c.Flags()
	f.StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	f.StringSliceVar(&composers, "composers", []string{"Clementi", "Wieniawski", "Hanon"}, "whose pieces, by a part of the name")
	f.IntSliceVar(&steps, "digits", []int{500, 2000}, "after how many decided digits")
	f.Float64Var(&s.TermRate, "term-rate", s.TermRate, "setting of the adapting")
	f.Float64Var(&s.HabitRate, "habit-rate", s.HabitRate, "setting of the adapting")
	f.Float64Var(&s.HabitDamp, "habit-damp", s.HabitDamp, "setting of the adapting")
	f.Float64Var(&s.Decay, "decay", s.Decay, "setting of the adapting")
	f.Float64Var(&s.HabitDecay, "habit-decay", s.HabitDecay, "setting of the adapting")
	f.IntVar(&s.Epochs, "epochs", s.Epochs, "setting of the adapting")
	f.IntVar(&s.MinCount, "min-count", s.MinCount, "setting of the adapting")
	return c
}

func houseHand(out io.Writer, pieces []*opendata.Piece, name string, steps []int, s fit.Settings) error {
	var theirs []*opendata.Piece
	for _, p := range pieces {
		if strings.Contains(p.Composer, name) {
			theirs = append(theirs, p)
		}
	}
	if len(theirs) == 0 {
		return fmt.Errorf("the fingered material has nothing by %q", name)
	}
	slices.Sort(steps)
	base := fit.Train(training.Examples(pieces, func(p *opendata.Piece) bool { return !slices.Contains(theirs, p) }), effort.HandSet(), training.Hand, training.HabitSettings()).Weights("without "+name, training.Prune)
	digits := 0
	var later []*opendata.Piece
	for _, p := range theirs {
		if digits < steps[len(steps)-1] {
			digits += p.Clean
		} else {
			later = append(later, p)
		}
	}
	right, all := agreeing(later, base)
	fmt.Fprintf(out, "%s: %d pieces, %d later ones with %d digits\n  after %5d digits  %s\n", name, len(theirs), len(later), all, 0, figures.Share([2]int{right, all}))
	for _, n := range steps {
		lines, used := decidedLines(theirs, n)
		o := habits.Adapt(lines, base, training.Hand, s)
		terms, habits := o.Changes.Numbers()
		right, all := agreeing(later, base.Plus(o.Changes))
		fmt.Fprintf(out, "  after %5d digits  %s  (%d %% of the change; of the decided ones %s before, %s after; %d terms and %d habits changed)\n", used, figures.Share([2]int{right, all}),
			o.Strength.Percent, figures.Share([2]int{o.Before, o.Foretold}), figures.Share([2]int{o.After, o.Foretold}), terms, habits)
	}
	return nil
}

// decidedLines takes the first n clean digits of pieces in their order, or as many as there are, as decided.
func decidedLines(pieces []*opendata.Piece, n int) (out []habits.Line, used int) {
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
		for h := range p.Hands {
			out = append(out, habits.Line{Piece: p.Name, Hand: fingering.Hand(h), Notes: p.Hands[h], Decided: decided[h]})
		}
	}
	return out, used
}

// agreeing counts the clean digits that the engine finds, none of them given.
func agreeing(pieces []*opendata.Piece, w *effort.Weights) (right, all int) {
	var worker engine.Worker
	for _, p := range pieces {
		for h := range p.Hands {
			for _, n := range worker.Finger(fingering.Hand(h), training.Hand, w, p.Hands[h], engine.Options{}).Notes {
				if r := &p.Rows[n.ID]; r.Clean {
					all++
					if n.Finger == r.Finger {
						right++
					}
				}
			}
		}
	}
	return right, all
}
