package agreement

import (
	"cmp"
	"fmt"
	"hash/crc32"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
)

func disagreementsCommand() *cobra.Command {
	var shared string
	var count, around int
	c := &cobra.Command{
		Use:   "disagreements",
		Short: "draw places where the engine and the printed digit differ, as notes and digits",
		Long: `disagreements fingers each piece with weights that have not seen its fold, takes some of the clean digits that
differ from the engine's (always the same ones), and draws each with the notes around it: the pitch, the
engine's finger, and after a slash the printed digit where there is one.

EXIT STATUS
  0  drawn
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			pieces, err := opendata.ReadPieces(filepath.Join(shared, "data", "fingered"))
			if err != nil {
				return err
			}
			return disagreements(cmd.OutOrStdout(), pieces, count, around)
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().IntVar(&count, "count", 20, "how many to draw")
	c.Flags().IntVar(&around, "around", 6, "how many notes to show on each side")
	return c
}

// disagreement is one clean digit that the engine does not choose.
type disagreement struct {
	rank  uint32 // by which they are drawn: a sum of their place, so that the draw does not depend on the count
	piece *opendata.Piece
	hand  fingering.Hand
	at    int // index into the line
	line  []drawn
}

// drawn is one note of a line, in playing order.
type drawn struct {
	row    *opendata.Row
	finger fingering.Finger
}

func disagreements(out io.Writer, pieces []*opendata.Piece, count, around int) error {
	var found [5][]disagreement
	var g errgroup.Group
	g.SetLimit(2)
	for fold := range 5 {
		g.Go(func() error {
			weights := training.Without(pieces, fold, training.HabitSettings(), "delivered", training.Prune)
			var worker engine.Worker
			for _, p := range pieces {
				if p.Fold == fold {
					found[fold] = append(found[fold], disagreementsOf(p, &worker, weights)...)
				}
			}
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return err
	}
	all := slices.Concat(found[:]...)
	slices.SortFunc(all, func(a, b disagreement) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), strings.Compare(a.piece.Name, b.piece.Name), cmp.Compare(a.at, b.at))
	})
	fmt.Fprintf(out, "%d clean digits differ; %d of them drawn\n", len(all), min(count, len(all)))
	for i, d := range all[:min(count, len(all))] {
		fmt.Fprintf(out, "\n%d. %s, m. %s, %s hand\n   ", i+1, d.piece.Name, d.line[d.at].row.Measure, map[fingering.Hand]string{fingering.Right: "right", fingering.Left: "left"}[d.hand])
		last := ""
		for k := max(0, d.at-around); k <= min(len(d.line)-1, d.at+around); k++ {
			n := d.line[k]
			if n.row.Onset == last {
				fmt.Fprint(out, "+")
			} else {
				fmt.Fprint(out, " ")
			}
			last = n.row.Onset
			text := fmt.Sprintf("%s:%d", n.row.Pitch, n.finger)
			if n.row.Given {
				text += fmt.Sprintf("/%d", n.row.Finger)
			}
			if k == d.at {
				text = "[" + text + "]"
			}
			fmt.Fprint(out, text)
		}
		fmt.Fprintln(out)
	}
	return nil
}

// disagreements fingers a piece freely and lists where a clean digit differs.
func disagreementsOf(p *opendata.Piece, worker *engine.Worker, weights *effort.Weights) []disagreement {
	var out []disagreement
	for h := range p.Hands {
		h := fingering.Hand(h)
		notes := p.Hands[h]
		result := worker.Finger(h, training.Hand, weights, notes, engine.Options{})
		order := make([]int, 0, len(notes))
		for i := range notes {
			if !result.Notes[i].Tied {
				order = append(order, i)
			}
		}
		slices.SortStableFunc(order, func(a, b int) int {
			x, y := &notes[a], &notes[b]
			return cmp.Or(fingering.Before(x, y), cmp.Compare(x.Key, y.Key))
		})
		line := make([]drawn, len(order))
		for k, i := range order {
			line[k] = drawn{&p.Rows[notes[i].ID], result.Notes[i].Finger}
		}
		for k := range line {
			if r := line[k].row; r.Clean && r.Finger != line[k].finger {
				rank := crc32.ChecksumIEEE(fmt.Appendf(nil, "%s %s %d", p.Name, h, k))
				out = append(out, disagreement{rank: rank, piece: p, hand: h, at: k, line: line})
			}
		}
	}
	return out
}
