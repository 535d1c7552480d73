package hands

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hands"
)

func handsCommand() *cobra.Command {
	var dir, stray string
	var rounds int
	var list bool
	var wrong string
	var learn []string
	var sources string
	var every int
	c := &cobra.Command{
		Use:   "hands",
		Short: "measure how well the hands are told from the music alone",
		Long: `hands takes the pieces of the fingered material that use both hands and have no note on the other hand's staff, forgets who plays
what, and tells the hands again from onset, duration and pitch: split at middle C, split by the nearest running position of a hand, and by the
search over both hands, with the shipped weights and with weights fitted on the other folds (works never divided). Every note element
but grace notes counts, notes tied on among them.

EXIT STATUS
  0  measured
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if stray != "" {
				return measureStray(cmd.OutOrStdout(), stray)
			}
			if len(learn) > 0 {
				return learnHands(cmd.OutOrStdout(), filepath.Join(dir, "data", "fingered"), learn, sources, every, rounds)
			}
			if wrong != "" {
				return listWrongHands(cmd.OutOrStdout(), filepath.Join(dir, "data", "fingered"), wrong)
			}
			return measureHands(cmd.OutOrStdout(), filepath.Join(dir, "data", "fingered"), rounds, list)
		},
	}
	c.Flags().StringVar(&dir, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().StringVar(&stray, "stray", "", "instead, count the notes of a folder that the hand of the other staff plays, by sign or position")
	c.Flags().IntVar(&rounds, "rounds", 3, "rounds of fitting; 0 leaves the weights fitted on folds out")
	c.Flags().StringSliceVar(&learn, "learn", nil, "instead, fit the weights to the staves of the scores in these folders and print the table (rules/hands/weights.json)")
	c.Flags().StringVar(&sources, "sources", handSources, "what the learned table says of its sources and their licences")
	c.Flags().IntVar(&every, "every", 1, "take every n-th score when learning")
	c.Flags().BoolVar(&list, "list", false, "list every piece")
	c.Flags().StringVar(&wrong, "wrong", "", "instead, draw the moments about the notes of a piece that are told wrong")
	return c
}

// handPiece is a piece with known hands. Notes tied on are part of the note that sounds.
type handPiece struct {
	name  string
	fold  int
	notes hands.Example
	count []int // note elements of each sounding note
}

// readHands reads the pieces that use both hands and have no note flagged as standing on the other staff.
func readHands(dir string) ([]handPiece, error) {
	pieces, err := opendata.ReadPieces(dir)
	if err != nil {
		return nil, err
	}
	var out []handPiece
	for _, p := range pieces {
		rows, err := opendata.ReadTable(filepath.Join(dir, p.Name+".tsv"))
		if err != nil {
			return nil, err
		}
		crossed := false
		for _, r := range rows {
			crossed = crossed || strings.Contains(r["flags"], "C")
		}
		if crossed || len(p.Hands[0]) == 0 || len(p.Hands[1]) == 0 {
			continue
		}
		hp := handPiece{name: p.Name, fold: p.Fold}
		for h, hand := range []score.Hand{score.Right, score.Left} {
			open := map[int]int{} // key → its latest note
			line := p.Hands[h]
			for _, k := range order(line) {
				n := line[k]
				if at, ok := open[n.Key]; ok && n.Tied && hp.notes[at].End.Compare(n.Onset) >= 0 {
					hp.notes[at].End = n.End
					hp.count[at]++
					continue
				}
				open[n.Key] = len(hp.notes)
				hp.notes = append(hp.notes, hands.Note{Onset: n.Onset, End: n.End, Rank: n.Rank, Key: n.Key, Hand: hand})
				hp.count = append(hp.count, 1)
			}
		}
		out = append(out, hp)
	}
	return out, nil
}

func order(line []fingering.Note) []int {
	out := make([]int, len(line))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int { return fingering.Before(&line[a], &line[b]) })
	return out
}

func (p *handPiece) blind() []hands.Note {
	out := append([]hands.Note(nil), p.notes...)
	for i := range out {
		out[i].Hand = score.NoHand
	}
	return out
}

func (p *handPiece) right(got []score.Hand) (right, all int) {
	for i, h := range got {
		if p.notes[i].Rank.IsGrace() {
			continue
		}
		all += p.count[i]
		if h == p.notes[i].Hand {
			right += p.count[i]
		}
	}
	return right, all
}

func measureHands(out io.Writer, dir string, rounds int, list bool) error {
	pieces, err := readHands(dir)
	if err != nil {
		return err
	}
	names := []string{"split at middle C", "nearest running position", "search, shipped weights", "search, weights of the other folds"}
	counts := make([][4][2]int, len(pieces))
	var learned [5]*hands.Table
	var g errgroup.Group
	g.SetLimit(2)
	for fold := range learned {
		if rounds == 0 {
			break
		}
		g.Go(func() error {
			var train []hands.Example
			for _, p := range pieces {
				if p.fold != fold {
					train = append(train, p.notes)
				}
			}
			learned[fold] = hands.Fit(train, rounds)
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	for i := range pieces {
		g.Go(func() error {
			p := &pieces[i]
			blind := p.blind()
			ways := []func([]hands.Note) []score.Hand{hands.AtMiddleC, hands.Nearest, hands.Infer}
			if t := learned[p.fold]; t != nil {
				ways = append(ways, t.Infer)
			}
			for k, tell := range ways {
				counts[i][k][0], counts[i][k][1] = p.right(tell(blind))
			}
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	var sum [4][2]int
	for i := range pieces {
		for k := range sum {
			sum[k][0] += counts[i][k][0]
			sum[k][1] += counts[i][k][1]
		}
		if list {
			c := &counts[i]
			fmt.Fprintf(out, "%s: %s %s %s %s of %d\n", pieces[i].name, figures.Share(c[0]), figures.Share(c[1]), figures.Share(c[2]), figures.Share(c[3]), c[0][1])
		}
	}
	fmt.Fprintf(out, "%d pieces, %d notes\n", len(pieces), sum[0][1])
	if rounds == 0 {
		names = names[:3]
	}
	for k, name := range names {
		fmt.Fprintf(out, "%-36s %s\n", name, figures.Share(sum[k]))
	}
	return nil
}
