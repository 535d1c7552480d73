package robustness

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/sync/errgroup"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/policies"
)

// travelling edits one measure at a time and measures how far from it anything changes.
type travelling struct {
	sample opendata.Sample
	policy *policies.Policy
	rounds int
	near   int
	list   bool
}

func travelCommand() *cobra.Command {
	m := &travelling{}
	policy := ""
	return measurement.Measurement{
		Use:   "travel [SCORE]...",
		Short: "edit one measure of real scores in many places: how far do changes of suggestions travel?",
		Long: `travel works scores out, changes one thing in one measure (a pitch, a digit of the text, a decision, a
measure more, a measure less), works them out again and pairs the notes of both by their music. It
counts in measures how far from the edit a note is fingered, printed or offered otherwise than before,
or from where the edited measure returns, or from where a figure stands again whose digit was edited;
the last two are counted apart. Without SCORE it takes scores evenly from the fingered and the engraved
ones.`,
		Args: cobra.ArbitraryArgs,
		Flags: func(f *pflag.FlagSet) {
			m.sample.Flags(f, 40)
			f.StringVar(&policy, "policy", "default", "policy file or shipped style")
			f.IntVar(&m.rounds, "rounds", 2, "rounds of every kind of edit in each score")
			f.IntVar(&m.near, "near", 2, "measures that count as nearby")
			f.BoolVar(&m.list, "list", false, "list every edit that moves something that is not nearby")
		},
		Run: func(_ context.Context, out io.Writer, files []string) (err error) {
			if len(files) == 0 {
				if files, err = opendata.Scores(m.sample.Shared, m.sample.Scores); err != nil {
					return err
				}
			}
			if m.policy, err = policies.Open(policy, "."); err != nil {
				return err
			}
			trips, err := m.all(files)
			if err != nil {
				return err
			}
			m.print(out, trips)
			return nil
		},
	}.Command()
}

// all measures scores, as many at a time as there are processors; the outcome does not depend on that.
func (m *travelling) all(files []string) ([]trip, error) {
	out := make([][]trip, len(files))
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i, file := range files {
		g.Go(func() error {
			data, err := os.ReadFile(file)
			if err != nil {
				return fmt.Errorf("reading a score: %w", err)
			}
			out[i], err = m.score(filepath.Base(file), data, rand.New(rand.NewPCG(m.sample.Seed, uint64(i))))
			return err
		})
	}
	err := g.Wait()
	return slices.Concat(out...), err
}

// score measures edits of one score.
func (m *travelling) score(name string, data []byte, rng *rand.Rand) ([]trip, error) {
	before := programruns.Of(name, data, m.policy)
	if err := programruns.UpTo(before, "thin"); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var out []trip
	for range m.rounds {
		for _, kind := range smallEdits {
			after, places, err := kind.make(before, rng)
			if err != nil {
				return nil, fmt.Errorf("%s, %s: %w", name, kind.name, err)
			}
			if after == nil {
				continue // nothing in this score takes such an edit
			}
			if err := programruns.UpTo(after, "thin"); err != nil {
				return nil, fmt.Errorf("%s, %s: %w", name, kind.name, err)
			}
			t := measureTrip(before, after, places)
			t.piece, t.kind = name, kind.name
			out = append(out, t)
		}
	}
	return out, nil
}
