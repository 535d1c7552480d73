package agreement

import (
	"cmp"
	"context"
	"fmt"
	"hash/crc32"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/training"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
)

// disagreements draws places where the engine and the printed digit differ.
type disagreements struct {
	shared        string
	count, around int
}

func disagreementsCommand() *cobra.Command {
	m := &disagreements{}
	return measurement.Measurement{
		Use:   "disagreements",
		Short: "draw places where the engine and the printed digit differ, as notes and digits",
		Long: `disagreements fingers each piece with weights that have not seen its fold, takes some of the clean digits
that differ from the engine's (always the same ones), and draws each with the notes around it: the pitch,
the engine's finger, and after a slash the printed digit where there is one.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.IntVar(&m.count, "count", 20, "how many to draw")
			f.IntVar(&m.around, "around", 6, "how many notes to show on each side")
		},
		Run: m.run,
	}.Command()
}

func (m *disagreements) run(_ context.Context, out io.Writer, _ []string) error {
	pieces, err := opendata.ReadPieces(opendata.Place(m.shared, "fingered"))
	if err != nil {
		return err
	}
	var found [5][]disagreement
	err = training.EachFold(pieces, 5, func(fold int, weights *effort.Weights) error {
		var worker engine.Worker
		for _, p := range pieces {
			if p.Fold == fold {
				found[fold] = append(found[fold], disagreementsOf(p, &worker, weights)...)
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	all := slices.Concat(found[:]...)
	slices.SortFunc(all, func(a, b disagreement) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), strings.Compare(a.piece.Name, b.piece.Name), cmp.Compare(a.at, b.at))
	})
	shown := all[:min(m.count, len(all))]
	fmt.Fprintf(out, "%d clean digits differ; %d of them drawn\n", len(all), len(shown))
	for i, d := range shown {
		hand := map[fingering.Hand]string{fingering.Right: "right", fingering.Left: "left"}[d.hand]
		fmt.Fprintf(out, "\n%d. %s, m. %s, %s hand\n   ", i+1, d.piece.Name, d.line[d.at].row.Measure, hand)
		d.draw(out, m.around)
	}
	return nil
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

// draw writes the notes around a disagreement; notes struck together are joined by a plus.
func (d *disagreement) draw(out io.Writer, around int) {
	last := ""
	for k := max(0, d.at-around); k <= min(len(d.line)-1, d.at+around); k++ {
		n := d.line[k]
		sign := " "
		if n.row.Onset == last {
			sign = "+"
		}
		last = n.row.Onset
		text := fmt.Sprintf("%s:%d", n.row.Pitch, n.finger)
		if n.row.Given {
			text += fmt.Sprintf("/%d", n.row.Finger)
		}
		if k == d.at {
			text = "[" + text + "]"
		}
		fmt.Fprint(out, sign, text)
	}
	fmt.Fprintln(out)
}

// disagreementsOf fingers a piece freely and lists where a clean digit differs.
func disagreementsOf(p *opendata.Piece, worker *engine.Worker, weights *effort.Weights) []disagreement {
	var out []disagreement
	for h := range p.Lines {
		h := fingering.Hand(h)
		notes := p.Lines[h]
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
			line[k] = drawn{p.Row(notes[i].ID), result.Notes[i].Finger}
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
