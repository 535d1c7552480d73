package suggestions

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"runtime"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
)

func limitsCommand() *cobra.Command {
	var shared string
	c := &cobra.Command{
		Use:   "limits",
		Short: "count grips beyond the hand over all real scores, said and unsaid",
		Long: `limits fingers every score of the fingered, repertoire and engraved material for the octave, the ninth and the
tenth hand, and looks at every grip, held keys included: how many go beyond the limits of the hand with a reason, and
how many without one.

EXIT STATUS
  0  no grip goes beyond the hand without a reason
  1  some do
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			unsaid := 0
			for _, kind := range []string{"fingered", "repertoire", "engraved"} {
				for _, style := range []string{"octave", "ninth", "tenth"} {
					n, err := limits(cmd.Context(), cmd.OutOrStdout(), filepath.Join(shared, "data", kind), style)
					if err != nil {
						return err
					}
					unsaid += n
				}
			}
			if unsaid > 0 {
				return fmt.Errorf("%d grips go beyond the hand without a reason", unsaid)
			}
			return nil
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	return c
}

func limits(ctx context.Context, out io.Writer, dir, handName string) (unsaid int, err error) {
	c, err := corpus.Open(dir)
	if err != nil {
		return 0, err
	}
	policy, err := policies.WithHand(handName)
	if err != nil {
		return 0, err
	}
	var sum gripCount
	job := pipeline.Job{Collection: c, Weights: pipeline.ShippedWeights(), Workers: runtime.GOMAXPROCS(0),
		PolicyOf: func(*corpus.Piece) (*policies.Policy, error) { return policy, nil }}
	err = pipeline.Run(ctx, job, func(w *pipeline.PieceRun, failed error) error {
		if failed != nil {
			fmt.Fprintf(out, "left out: %v\n", failed)
			return nil
		}
		for _, l := range w.Suggestion.Lines {
			sum.count(w, l)
		}
		return nil
	})
	fmt.Fprintf(out, "%-10s %-6s hand: %d grips of several keys, %d out of reach and said so, %d unsaid (%d pairs with a finger changed on the way not looked at); %d of %d notes without a finger\n",
		filepath.Base(dir), handName, sum.grips, sum.said, sum.unsaid, sum.changed, sum.noFinger, sum.notes)
	return sum.unsaid, err
}

// count counts the grips of one line of a piece.
func (c *gripCount) count(w *pipeline.PieceRun, l suggest.Line) {
	notes := suggest.NotesOf(w.SuggestInput(), l.Player, l.Hand)
	c.line(fingering.HandOf(l.Hand), notes, w.Profile, func(id int) *engine.Note {
		if added, ok := w.Suggestion.Added[id]; ok {
			return &added
		}
		return &w.Suggestion.Notes[id].Note
	})
}
