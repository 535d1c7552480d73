package edition

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/13_credit"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/policies"
)

// oneDigitCommand measures what a single changed finger does to the digits that are printed elsewhere.
func oneDigitCommand() *cobra.Command {
	var shared string
	var every, each int
	return measurement.Measurement{
		Use:   "one-digit",
		Short: "what a single changed finger does to the digits that are printed elsewhere",
		Long: `one-digit fingers scores of the fingered material as if no digit stood in them, changes one finger of a note
to its neighbour, as an editor would, and chooses the printed digits anew. It counts the places at which a digit
prints now and did not, or the reverse, and how many of them are far: in the other hand, or more than two measures
away. An editor who changes a digit in a piece that was passed looks for no other change there.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &shared)
			f.IntVar(&every, "every", 1, "take every so many-th piece only")
			f.IntVar(&each, "changes", 4, "changes tried in a piece, one at a time")
		},
		Run: func(ctx context.Context, out io.Writer, _ []string) error {
			c, err := opendata.EveryNth(opendata.Place(shared, "fingered"), every)
			if err != nil {
				return err
			}
			m := &oneDigit{each: each}
			for _, name := range []string{"study", "performance"} {
				p, err := policies.Default().Setting(map[string]string{"digits": name})
				if err != nil {
					return err
				}
				m.densities = append(m.densities, &densityChanges{name: name, policy: p})
			}
			if err := programruns.OfCollection(ctx, out, c, policies.Default(), m.add); err != nil {
				return err
			}
			for _, d := range m.densities {
				fmt.Fprintf(out, "%-12s %d changes of one finger: %d digits print otherwise, %d of them far away; %d changes with any far away\n",
					d.name, d.changes, d.prints, d.far, d.withFar)
			}
			return nil
		},
	}.Command()
}

// oneDigit counts at each density.
type oneDigit struct {
	each      int
	densities []*densityChanges
}

type densityChanges struct {
	name                          string
	policy                        *policies.Policy
	changes, prints, far, withFar int
}

// nearby is how many measures on either side of a change are not far.
const nearby = 2

func (m *oneDigit) add(w *pipeline.PieceRun) {
	free := *w
	free.Policy = m.densities[0].policy
	free.Score = w.Score.WithoutDigits()
	free.Suggestion = suggest.Suggest(free.SuggestInput())
	free.Credited = credit.Digits(free.CreditInput())
	for _, d := range m.densities {
		free.Policy = d.policy
		in := thin.FingeredOf(free.ThinInput())
		printed := thin.Plan(in)
		rng := rand.New(rand.NewPCG(uint64(len(in.Finger)), 1))
		var struck []int
		for i, f := range in.Finger {
			if f > 0 && w.Playing.Plays(i) && w.Score.Notes[i].TiedFrom < 0 {
				struck = append(struck, i)
			}
		}
		for range min(m.each, len(struck)) {
			i := struck[rng.IntN(len(struck))]
			changed := in
			changed.Finger = slices.Clone(in.Finger)
			if changed.Finger[i]++; changed.Finger[i] > 5 {
				changed.Finger[i] = 4
			}
			d.changes++
			far := 0
			for k, p := range thin.Plan(changed) {
				if p == printed[k] {
					continue
				}
				d.prints++
				away := w.Score.Notes[k].Measure - w.Score.Notes[i].Measure
				if w.Playing.Hand(k) != w.Playing.Hand(i) || max(away, -away) > nearby {
					far++
				}
			}
			if d.far += far; far > 0 {
				d.withFar++
			}
		}
	}
}
