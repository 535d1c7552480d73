package main

import (
	"fmt"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

func evaluateCommand() *cobra.Command {
	var data string
	c := &cobra.Command{
		Use:  "evaluate",
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			pieces, err := readMaterial(filepath.Join(data, "data", "fingered"))
			if err != nil {
				return err
			}
			for _, d := range []engine.Decode{engine.Cheapest, engine.MostAgreement} {
				t := &tally{}
				start := time.Now()
				var w engine.Worker
				for _, p := range pieces {
					t.measure(&w, p, effort.HandSet(), engine.Options{Decode: d, Choices: true}, -1)
				}
				fmt.Fprintf(cmd.OutOrStdout(), "decode %d: %.4f best two %.4f of %d, %.0f notes/s\n", d, float64(t.right)/float64(t.all), float64(t.two)/float64(t.all), t.all, float64(t.notes)/time.Since(start).Seconds())
			}
			return nil
		},
	}
	c.Flags().StringVar(&data, "shared", sharedFolder(), "folder of shared material")
	return c
}

type tally struct{ all, right, two, notes int }

func (t *tally) measure(w *engine.Worker, p *piece, weights *effort.Weights, options engine.Options, hide int) {
	for h := range p.hands {
		notes := p.constrained(fingering.Hand(h), hide)
		r := w.Finger(fingering.Hand(h), hand.NinthHand, weights, notes, options)
		for _, n := range r.Notes {
			row := p.rows[n.ID]
			t.notes++
			if !row.clean || hide >= 0 && !row.hidden[hide] {
				continue
			}
			t.all++
			if n.Finger == row.finger {
				t.right++
				t.two++
			} else if len(n.Choices) > 0 && n.Choices[0].Finger == row.finger {
				t.two++
			}
		}
	}
}

// constrained gives a hand's notes: with hide −1 free of digits, else with every digit given but the clean ones of fifth hide.
func (p *piece) constrained(h fingering.Hand, hide int) []fingering.Note {
	notes := append([]fingering.Note(nil), p.hands[h]...)
	if hide < 0 {
		return notes
	}
	for i := range notes {
		r := p.rows[notes[i].ID]
		if r.given && !(r.clean && r.hidden[hide]) {
			notes[i].Allowed = fingering.Only(r.finger)
		}
	}
	return notes
}
