package suggestions

import (
	"context"
	"fmt"
	"io"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/policies"
)

func limitsCommand() *cobra.Command {
	shared := ""
	return measurement.Measurement{
		Use:   "limits",
		Short: "count grips beyond the hand over all real scores, with a reason and without one",
		Long: `limits fingers every score of the fingered, repertoire and engraved material for the octave, the ninth
and the tenth hand, and looks at every grip, held keys included: how many go beyond the limits of the
hand with a reason, and how many without one.`,
		Fails: "a grip goes beyond the hand without a reason",
		Flags: func(f *pflag.FlagSet) { opendata.FolderFlag(f, &shared) },
		Run: func(ctx context.Context, out io.Writer, _ []string) error {
			unsaid := 0
			for _, kind := range []string{"fingered", "repertoire", "engraved"} {
				for _, hand := range []string{"octave", "ninth", "tenth"} {
					n, err := limits(ctx, out, shared, kind, hand)
					if err != nil {
						return err
					}
					unsaid += n
				}
			}
			if unsaid > 0 {
				return measurement.Failed("%d grips go beyond the hand without a reason", unsaid)
			}
			return nil
		},
	}.Command()
}

// limits counts the grips of one collection for one hand and gives how many are beyond it without a reason.
func limits(ctx context.Context, out io.Writer, shared, kind, hand string) (unsaid int, err error) {
	c, err := corpus.Open(opendata.Place(shared, kind))
	if err != nil {
		return 0, err
	}
	policy, err := policies.WithHand(hand)
	if err != nil {
		return 0, err
	}
	var sum gripCount
	err = programruns.OfCollection(ctx, out, c, policy, func(w *pipeline.PieceRun) {
		for _, l := range w.Suggestion.Lines {
			sum.ofLine(w, l)
		}
	})
	fmt.Fprintf(out, "%-10s %-6s hand: %d grips of several keys, %d out of reach and said so, %d unsaid",
		kind, hand, sum.grips, sum.said, sum.unsaid)
	fmt.Fprintf(out, " (not looked at: %d pairs with a finger changed on the way, %d with a key let go and said so); %d of %d notes without a finger\n",
		sum.changed, sum.letGo, sum.noFinger, sum.notes)
	return sum.unsaid, err
}
