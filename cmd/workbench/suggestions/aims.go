package suggestions

import (
	"context"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
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

// aims shows what each aim of a fingering moves.
type aims struct {
	page string
	each int
}

func aimsCommand() *cobra.Command {
	m := &aims{}
	return measurement.Measurement{
		Use:   "aims PATH",
		Short: "finger a collection without each aim of a fingering and with it, and draw what changes",
		Long: `aims fingers every piece with the default policy, and once more without line, tempo, reach and memory,
one at a time. It says how many notes each aim moves, and draws the first passages that it moves, without
the aim and with it.`,
		Args: cobra.ExactArgs(1),
		Flags: func(f *pflag.FlagSet) {
			f.StringVar(&m.page, "page", "", "draw passages on this HTML page")
			f.IntVar(&m.each, "each", 3, "passages to draw for each aim")
		},
		Run: m.run,
	}.Command()
}

func (m *aims) run(ctx context.Context, out io.Writer, args []string) error {
	c, err := corpus.Open(args[0])
	if err != nil {
		return err
	}
	pictures := ""
	for _, aim := range aimKeys {
		without, err := policies.Default().Setting(aim.keys)
		if err != nil {
			return err
		}
		count := aimCount{most: m.each}
		for i := range c.Pieces {
			before, err := fingered(c, &c.Pieces[i], without)
			if err != nil {
				return err
			}
			after, err := fingered(c, &c.Pieces[i], policies.Default())
			if err != nil {
				return err
			}
			count.piece(before, after)
		}
		fmt.Fprintf(out, "%-7s moves %5d of %d struck notes\n", aim.name, count.changed, count.notes)
		if m.page != "" {
			drawn, err := drawMoved(ctx, aim.name, count.shown)
			if err != nil {
				return err
			}
			pictures += drawn
		}
	}
	if m.page == "" {
		return nil
	}
	return os.WriteFile(m.page, []byte("<!doctype html><meta charset=utf-8><title>What each aim moves</title>"+
		"<style>body{font:15px serif;max-width:60em;margin:1em auto}"+engrave.CSS+"</style>"+
		"<h1>What each aim moves</h1>"+pictures), 0o644)
}

// fingered works a piece out under a policy.
func fingered(c *corpus.Collection, p *corpus.Piece, policy *policies.Policy) (*pipeline.PieceRun, error) {
	w, err := programruns.OfPiece(c, p, policy)
	if err != nil {
		return nil, err
	}
	return w, pipeline.RunPiece(w)
}

// aimCount counts what one aim moves, and keeps the first measures to be drawn, one a piece.
type aimCount struct {
	notes, changed, most int
	shown                []moved
}

// moved is a measure in which an aim moves fingers.
type moved struct {
	run           *pipeline.PieceRun
	measure       int
	before, after []int // by note, 0 where no note of the measure
}

func (c *aimCount) piece(before, after *pipeline.PieceRun) {
	shown := false
	for n := range after.Score.Notes {
		if !after.Playing.Plays(n) || after.Score.Notes[n].TiedFrom >= 0 {
			continue
		}
		c.notes++
		a, b := &before.Suggestion.Notes[n], &after.Suggestion.Notes[n]
		if a.Finger == b.Finger && a.Substitution == b.Substitution {
			continue
		}
		c.changed++
		if !shown && len(c.shown) < c.most {
			shown = true
			c.shown = append(c.shown, moved{after, after.Score.Notes[n].Measure, digitsOf(before), digitsOf(after)})
		}
	}
}

// digitsOf lists the fingers of a run by note; a silent change counts as tens.
func digitsOf(w *pipeline.PieceRun) []int {
	out := make([]int, len(w.Score.Notes))
	for n := range out {
		if w.Score.Notes[n].TiedFrom < 0 {
			out[n] = int(w.Suggestion.Notes[n].Finger) + 10*int(w.Suggestion.Notes[n].Substitution)
		}
	}
	return out
}
