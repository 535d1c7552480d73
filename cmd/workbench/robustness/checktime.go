package robustness

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/passed"
	"fingerproof/pipeline/6_checks/check"
	"fingerproof/policies"
)

// checkTimeCommand measures what proving causes costs beside working a collection out once.
func checkTimeCommand() *cobra.Command {
	var shared, other string
	var every int
	c := &cobra.Command{
		Use:   "check-time [PATH]",
		Short: "measure check after a few values of the policy changed: its time beside that of a run, changes and causes",
		Long: `check-time works every piece of PATH (default: the fingered scores) out under the default style, as it would be passed, and checks it under
another policy. It tells how long both take, one piece after the other, and what the causes are.

EXIT STATUS
  0  measured
  2  the work could not be done`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			path := filepath.Join(shared, "data", "fingered")
			if len(args) == 1 {
				path = args[0]
			}
			return measureCheck(cmd, path, other, every)
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().StringVar(&other, "policy", "", "the other policy (default: digits performance, hand octave, redistribute.threshold 4000)")
	c.Flags().IntVar(&every, "every", 1, "take every n-th score")
	return c
}

func measureCheck(cmd *cobra.Command, path, other string, every int) error {
	if other == "" {
		dir, err := os.MkdirTemp("", "check-time-")
		if err != nil {
			return err
		}
		defer os.RemoveAll(dir)
		other = filepath.Join(dir, "policy.yaml")
		if err := os.WriteFile(other, []byte("digits: performance\nhand: octave\nredistribute: {threshold: 4000}\n"), 0o600); err != nil {
			return err
		}
	}
	policy, err := policies.Open(other, ".")
	if err != nil {
		return err
	}
	c, err := corpus.Open(path)
	if err != nil {
		return err
	}
	var running, checking time.Duration
	pieces, failed, reruns, changed := 0, 0, 0, 0
	causes := map[string]int{}
	for i := 0; i < len(c.Pieces); i += max(every, 1) {
		was := opendata.WayOf(c.Path(c.Pieces[i].Score), policies.Default())
		begun := time.Now()
		if pipeline.RunPiece(was) != nil {
			failed++
			continue
		}
		running += time.Since(begun)
		state := &passed.State{
			Piece: was.Piece.ID, Engine: pipeline.EngineVersion, Weights: was.Weights.Sum, Score: was.Piece.Score, ScoreSum: pipeline.Sum(was.Data),
			Settings: pipeline.Settings(was.Piece), Policy: was.Policy.Values(), Snapshot: passed.SnapshotOf(was.Result),
		}
		begun = time.Now()
		now := opendata.WayOf(c.Path(c.Pieces[i].Score), policy)
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
	out := cmd.OutOrStdout()
	fmt.Fprintf(out, "%d pieces (%d could not be read), %d changed; keys that differ: %v\n", pieces, failed, changed, policies.Differing(policies.Default(), policy))
	fmt.Fprintf(out, "run %.1f s, check %.1f s: %.2f times a run, %.2f workings a piece beside the first\n",
		running.Seconds(), checking.Seconds(), checking.Seconds()/running.Seconds(), float64(reruns)/float64(pieces))
	names := make([]string, 0, len(causes))
	for name := range causes {
		names = append(names, name)
	}
	slices.SortFunc(names, func(a, b string) int {
		if causes[a] != causes[b] {
			return causes[b] - causes[a]
		}
		return slices.Compare([]byte(a), []byte(b))
	})
	for _, name := range names {
		fmt.Fprintf(out, "%8d  %s\n", causes[name], name)
	}
	return nil
}
