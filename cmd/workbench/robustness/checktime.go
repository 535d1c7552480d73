package robustness

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/pipeline/6_checks/check"
	"fingerproof/policies"
)

// checkTime measures what proving causes costs beside working a collection out once.
type checkTime struct {
	shared, policy string
	every          int
}

func checkTimeCommand() *cobra.Command {
	m := &checkTime{}
	return measurement.Measurement{
		Use:   "check-time [PATH]",
		Short: "measure check after a few values of the policy changed: its time beside that of a run, changes and causes",
		Long: `check-time works every piece of PATH (default: the fingered scores) out under the default style, as it
would be passed, and checks it under another policy. It says how long both take, one piece after the
other, and what the causes are.`,
		Args: cobra.MaximumNArgs(1),
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringVar(&m.policy, "policy", "",
				"the other policy (default: digits performance, hand octave, redistribute.threshold 4000)")
			f.IntVar(&m.every, "every", 1, "take every n-th score")
		},
		Run: m.run,
	}.Command()
}

func (m *checkTime) run(_ context.Context, out io.Writer, args []string) error {
	path := opendata.Place(m.shared, "fingered")
	if len(args) == 1 {
		path = args[0]
	}
	policy, err := m.otherPolicy()
	if err != nil {
		return err
	}
	c, err := opendata.EveryNth(path, m.every)
	if err != nil {
		return err
	}
	var running, checking time.Duration
	pieces, failed, reruns, changed := 0, 0, 0, 0
	causes := map[string]int{}
	for i := range c.Pieces {
		was := programruns.OfFile(c.Path(c.Pieces[i].Score), policies.Default())
		begun := time.Now()
		if pipeline.RunPiece(was) != nil {
			failed++
			continue
		}
		running += time.Since(begun)
		state := passedState(was)
		begun = time.Now()
		now := programruns.OfFile(c.Path(c.Pieces[i].Score), policy)
		if err := pipeline.RunPiece(now); err != nil {
			return err
		}
		p := check.Compare(now, state, was.Data)
		checking += time.Since(begun)
		pieces++
		reruns += p.Reruns
		if len(p.Changes) > 0 {
			changed++
		}
		list, counts := check.Causes(p.Changes)
		for _, cause := range list {
			causes[cause] += counts[cause]
		}
	}
	if pieces == 0 {
		return fmt.Errorf("nothing was measured: %d pieces could not be read", failed)
	}
	fmt.Fprintf(out, "%d pieces (%d could not be read), %d changed; keys that differ: %v\n",
		pieces, failed, changed, policies.Differing(policies.Default(), policy))
	fmt.Fprintf(out, "run %.1f s, check %.1f s: %.2f times a run, %.2f workings a piece beside the first\n",
		running.Seconds(), checking.Seconds(), checking.Seconds()/running.Seconds(), float64(reruns)/float64(pieces))
	for _, name := range slices.SortedFunc(maps.Keys(causes), func(a, b string) int {
		return cmp.Or(causes[b]-causes[a], strings.Compare(a, b))
	}) {
		fmt.Fprintf(out, "%8d  %s\n", causes[name], name)
	}
	return nil
}

// otherPolicy is the policy named, or one in which a few values differ from the default style.
func (m *checkTime) otherPolicy() (*policies.Policy, error) {
	if m.policy != "" {
		return policies.Open(m.policy, ".")
	}
	dir, err := os.MkdirTemp("", "check-time-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "policy.yaml")
	text := "digits: performance\nhand: octave\nredistribute: {threshold: 4000}\n"
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		return nil, err
	}
	return policies.Open(path, ".")
}

// passedState is a run as it would be passed.
func passedState(w *pipeline.PieceRun) *passed.State {
	return &passed.State{
		Piece: w.Piece.ID, Engine: pipeline.EngineVersion, Weights: w.Weights.Sum,
		Score: w.Piece.Score, ScoreSum: source.Sum(w.Data),
		Settings: w.Piece.Settings(), Policy: w.Policy.Values(), Snapshot: passed.SnapshotOf(w.Result),
	}
}
