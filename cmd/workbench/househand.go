package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/pipeline/4_services/habits"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fit"

	"github.com/spf13/cobra"
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
			pieces, err := readMaterial(filepath.Join(shared, "data", "fingered"))
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
	f.StringVar(&shared, "shared", sharedFolder(), "folder of shared material")
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

func houseHand(out io.Writer, pieces []*piece, name string, steps []int, s fit.Settings) error {
	var theirs []*piece
	for _, p := range pieces {
		if strings.Contains(p.composer, name) {
			theirs = append(theirs, p)
		}
	}
	if len(theirs) == 0 {
		return fmt.Errorf("the fingered material has nothing by %q", name)
	}
	slices.Sort(steps)
	base := fit.Train(examples(pieces, func(p *piece) bool { return !slices.Contains(theirs, p) }), effort.HandSet(), trainingHand, habitSettings()).Weights("without "+name, prune)
	digits := 0
	var later []*piece
	for _, p := range theirs {
		if digits < steps[len(steps)-1] {
			digits += p.clean
		} else {
			later = append(later, p)
		}
	}
	right, all := agreeing(later, base)
	fmt.Fprintf(out, "%s: %d pieces, %d later ones with %d digits\n  after %5d digits  %s\n", name, len(theirs), len(later), all, 0, share([2]int{right, all}))
	for _, n := range steps {
		lines, used := decidedLines(theirs, n)
		o := habits.Adapt(lines, base, trainingHand, s)
		terms, habits := o.Changes.Numbers()
		right, all := agreeing(later, base.Plus(o.Changes))
		fmt.Fprintf(out, "  after %5d digits  %s  (%d %% of the change; of the decided ones %s before, %s after; %d terms and %d habits changed)\n", used, share([2]int{right, all}),
			o.Strength.Percent, share([2]int{o.Before, o.Foretold}), share([2]int{o.After, o.Foretold}), terms, habits)
	}
	return nil
}

// decidedLines takes the first n clean digits of pieces in their order, or as many as there are, as decided.
func decidedLines(pieces []*piece, n int) (out []habits.Line, used int) {
	for _, p := range pieces {
		if used >= n {
			break
		}
		var decided [2]map[int]fingering.Finger
		for i := range p.rows {
			if r := &p.rows[i]; r.clean && used < n {
				if decided[r.hand] == nil {
					decided[r.hand] = map[int]fingering.Finger{}
				}
				decided[r.hand][i] = r.finger
				used++
			}
		}
		for h := range p.hands {
			out = append(out, habits.Line{Piece: p.name, Hand: fingering.Hand(h), Notes: p.hands[h], Decided: decided[h]})
		}
	}
	return out, used
}

// agreeing counts the clean digits that the engine finds, none of them given.
func agreeing(pieces []*piece, w *effort.Weights) (right, all int) {
	var worker engine.Worker
	for _, p := range pieces {
		for h := range p.hands {
			for _, n := range worker.Finger(fingering.Hand(h), trainingHand, w, p.hands[h], engine.Options{}).Notes {
				if r := &p.rows[n.ID]; r.clean {
					all++
					if n.Finger == r.finger {
						right++
					}
				}
			}
		}
	}
	return right, all
}
