package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hands"
)

func handsCommand() *cobra.Command {
	var dir string
	var rounds int
	c := &cobra.Command{
		Use:   "hands",
		Short: "recover the hands from onset, length and pitch alone, cross-validated",
		Long: `hands takes the pieces of the fingered material that use both hands and have no voice on the other staff, forgets staff and voice, and
tells how many notes get their hand back: by a split at middle C, by the hand that was nearer, and by the inference, fitted on the other
four folds of whole groups.

EXIT STATUS
  0  measured
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			pieces, err := readMaterial(filepath.Join(dir, "data", "fingered"))
			if err != nil {
				return err
			}
			return measureHands(cmd.OutOrStdout(), pieces, rounds)
		},
	}
	c.Flags().StringVar(&dir, "shared", sharedFolder(), "folder of shared material")
	c.Flags().IntVar(&rounds, "rounds", 4, "rounds of fitting")
	return c
}

// bothHands gives a piece as notes with known hands; ok is false where it does not use both or a voice crosses the staves.
func (p *piece) bothHands() (e hands.Example, ok bool) {
	used := [2]bool{}
	for _, line := range p.hands {
		for _, n := range line {
			r := &p.rows[n.ID]
			if strings.Contains(r.flags, "C") {
				return e, false
			}
			if r.tied {
				continue
			}
			h := score.Right
			if r.hand == fingering.Left {
				h = score.Left
			}
			used[r.hand] = true
			e.Notes = append(e.Notes, hands.Note{Key: n.Key, Onset: ticks(n.Onset), End: ticks(n.End), Grace: n.Grace})
			e.Hands = append(e.Hands, h)
		}
	}
	return e, used[0] && used[1]
}

func ticks(m fingering.Moment) int64 { return m.Num * hands.TicksPerQuarter / max(m.Den, 1) }

func measureHands(out io.Writer, pieces []*piece, rounds int) error {
	var examples []hands.Example
	var folds []int
	for _, p := range pieces {
		if e, ok := p.bothHands(); ok {
			examples, folds = append(examples, e), append(folds, p.fold)
		}
	}
	notes := 0
	right := [3]int{}
	byFold := [5][2]int{}
	var g errgroup.Group
	g.SetLimit(2)
	for fold := range 5 {
		g.Go(func() error {
			var learn []hands.Example
			for i, e := range examples {
				if folds[i] != fold {
					learn = append(learn, e)
				}
			}
			w := hands.Fit(learn, rounds)
			for i, e := range examples {
				if folds[i] == fold {
					byFold[fold][0] += agree(hands.InferWith(e.Notes, w), e.Hands)
					byFold[fold][1] += len(e.Hands)
				}
			}
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	for _, e := range examples {
		notes += len(e.Notes)
		right[0] += agree(hands.MiddleC(e.Notes), e.Hands)
		right[1] += agree(hands.Nearest(e.Notes), e.Hands)
	}
	for _, f := range byFold {
		right[2] += f[0]
	}
	fmt.Fprintf(out, "%d pieces that use both hands and have no voice on the other staff, %d struck notes\n", len(examples), notes)
	for k, name := range []string{"split at middle C", "the hand that was nearer", "inferred, fitted on the other folds"} {
		fmt.Fprintf(out, "%-36s %.4f\n", name, float64(right[k])/float64(notes))
	}
	for fold, f := range byFold {
		fmt.Fprintf(out, "  fold %d %.4f of %d\n", fold, float64(f[0])/float64(max(f[1], 1)), f[1])
	}
	fmt.Fprintf(out, "weights fitted on all: %v\n", hands.Fit(examples, rounds))
	return nil
}

func agree(got, known []score.Hand) (n int) {
	for i := range got {
		if got[i] == known[i] {
			n++
		}
	}
	return n
}
