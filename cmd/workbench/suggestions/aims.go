package suggestions

import (
	"context"
	"fmt"
	"html"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/reports/engrave"
)

// aimKeys are the aims in the order in which they are shown, with the policy keys that leave them out.
var aimKeys = []struct {
	name string
	keys map[string]string
}{
	{"line", map[string]string{"aims.line": "0"}},
	{"tempo", map[string]string{"aims.tempo": "0"}},
	{"reach", map[string]string{"aims.reach": "0"}},
	{"memory", map[string]string{"aims.memory": "0"}},
}

func aimsCommand() *cobra.Command {
	var page string
	var each int
	c := &cobra.Command{
		Use:   "aims PATH",
		Short: "finger a collection without each aim of a fingering and with it, and draw what changes",
		Long: `aims fingers every piece with the default policy, and once more without line, tempo, reach and memory, one at a time. It tells how
many notes each aim moves, and draws the first passages that it moves, without the aim and with it.

EXIT STATUS
  0  done
  2  the work could not be done`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return showAims(cmd.Context(), cmd.OutOrStdout(), args[0], page, each)
		},
	}
	c.Flags().StringVar(&page, "page", "", "draw passages on this HTML page")
	c.Flags().IntVar(&each, "each", 3, "passages to draw for each aim")
	return c
}

// moved is a measure in which an aim moves fingers.
type moved struct {
	way           *pipeline.PieceRun
	measure       int
	before, after []int // by note, 0 where no note of the measure
}

func showAims(ctx context.Context, out io.Writer, path, page string, each int) error {
	c, err := corpus.Open(path)
	if err != nil {
		return err
	}
	var pictures strings.Builder
	for _, aim := range aimKeys {
		without, err := policies.Default().Setting(aim.keys)
		if err != nil {
			return err
		}
		notes, changed, shown := 0, 0, []moved{}
		for i := range c.Pieces {
			before, err := fingered(c, &c.Pieces[i], without)
			if err != nil {
				return err
			}
			after, err := fingered(c, &c.Pieces[i], policies.Default())
			if err != nil {
				return err
			}
			last := -1
			for n := range after.Score.Notes {
				if !after.Hands.Piano[n] || after.Score.Notes[n].TiedFrom >= 0 {
					continue
				}
				notes++
				a, b := &before.Suggestion.Notes[n], &after.Suggestion.Notes[n]
				if a.Finger == b.Finger && a.Substitution == b.Substitution {
					continue
				}
				changed++
				if m := after.Score.Notes[n].Measure; m != last && len(shown) < each && (len(shown) == 0 || shown[len(shown)-1].way.Piece != after.Piece) {
					last = m
					shown = append(shown, moved{after, m, digitsOf(before), digitsOf(after)})
				}
			}
		}
		fmt.Fprintf(out, "%-7s moves %5d of %d struck notes\n", aim.name, changed, notes)
		if page != "" {
			if err := drawMoved(ctx, &pictures, aim.name, shown); err != nil {
				return err
			}
		}
	}
	if page == "" {
		return nil
	}
	return os.WriteFile(page, []byte("<!doctype html><meta charset=utf-8><title>What each aim moves</title><style>body{font:15px serif;max-width:60em;margin:1em auto}"+
		engrave.CSS+"</style><h1>What each aim moves</h1>"+pictures.String()), 0o644)
}

func fingered(c *corpus.Collection, p *corpus.Piece, policy *policies.Policy) (*pipeline.PieceRun, error) {
	data, err := os.ReadFile(c.Path(p.Score))
	if err != nil {
		return nil, err
	}
	piece := *p
	piece.Witnesses = nil
	w := &pipeline.PieceRun{Piece: &piece, Data: data, Policy: policy, Weights: pipeline.ShippedWeights()}
	return w, pipeline.RunPiece(w)
}

// digitsOf lists the fingers of a way by note; a silent change counts as tens.
func digitsOf(w *pipeline.PieceRun) []int {
	out := make([]int, len(w.Score.Notes))
	for n := range out {
		if w.Score.Notes[n].TiedFrom < 0 {
			out[n] = int(w.Suggestion.Notes[n].Finger) + 10*int(w.Suggestion.Notes[n].Substitution)
		}
	}
	return out
}

func drawMoved(ctx context.Context, out *strings.Builder, aim string, shown []moved) error {
	press, err := engrave.Open(ctx, engrave.Options{Package: engrave.FindPackage("."), CacheDir: filepath.Join(os.TempDir(), "fingerproof-engraver")})
	if err != nil {
		return err
	}
	defer press.Close(ctx)
	worker, err := press.Worker(ctx)
	if err != nil {
		return err
	}
	defer worker.Close(ctx)
	fmt.Fprintf(out, "<h2>%s</h2>", html.EscapeString(aim))
	for _, m := range shown {
		last := min(m.measure+1, len(m.way.Score.Measures)-1)
		fmt.Fprintf(out, "<h3>%s, m. %s</h3>", html.EscapeString(m.way.Piece.ID), html.EscapeString(m.way.Score.Measures[m.measure].Number))
		for k, digits := range [2][]int{m.before, m.after} {
			sheet, err := engrave.Copy([]byte(m.way.Document.Text), engrave.CopyOptions{})
			if err != nil {
				return err
			}
			for i := range sheet.Notes {
				sheet.Notes[i].Digits = nil
				n := i
				if n >= len(digits) || digits[n] == 0 || !m.way.Hands.Piano[n] {
					continue
				}
				text := fmt.Sprint(digits[n] % 10)
				if digits[n] > 10 {
					text += fmt.Sprintf("-%d", digits[n]/10)
				}
				side := "above"
				if m.way.Hands.Hand[n] == score.Left {
					side = "below"
				}
				sheet.Notes[i].Digits = []engrave.Digit{{Text: text, Placement: side, Boxed: m.before[n] != m.after[n]}}
			}
			picture, err := worker.Excerpt(ctx, sheet, m.measure, last, engrave.ExcerptOptions{Width: 900})
			if err != nil {
				return err
			}
			fmt.Fprintf(out, "<p>%s</p>%s", [2]string{"without", "with"}[k], picture.SVG)
		}
	}
	return nil
}
