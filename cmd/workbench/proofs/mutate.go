package proofs

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/mutants"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"
)

// mutateCommand plants known differences in real scores, alone and mixed with
// each other and with changes that mean nothing, and measures how many the
// comparison finds and how many it invents.
func mutateCommand() *cobra.Command {
	var shared string
	var scores, rounds int
	var seed uint64
	var list, worst bool
	c := &cobra.Command{
		Use:   "mutate",
		Short: "plant known differences in real scores and measure precision and recall of the comparison by kind",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			files, err := opendata.Scores(shared, scores)
			if err != nil {
				return err
			}
			t := &mutationTally{kinds: map[compare.Kind]*[3]int{}, cmd: cmd, list: list, worst: worst}
			for i, file := range files {
				data, err := os.ReadFile(file)
				if err != nil {
					return fmt.Errorf("reading a score: %w", err)
				}
				rng := rand.New(rand.NewPCG(seed, uint64(i)))
				if err := t.piece(file, data, rng, rounds); err != nil {
					return err
				}
			}
			t.print()
			return nil
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().IntVar(&scores, "scores", 60, "how many scores to take")
	c.Flags().IntVar(&rounds, "rounds", 2, "rounds of every single mutation in each score, and of mixtures")
	c.Flags().Uint64Var(&seed, "seed", 1, "seed of the choices")
	c.Flags().BoolVar(&list, "list", false, "list every mutation that was not told exactly")
	c.Flags().BoolVar(&worst, "stop", false, "stop at the first that was not told exactly")
	return c
}

type mutationTally struct {
	kinds     map[compare.Kind]*[3]int // found, missed, invented
	mutations int
	neutral   int
	trials    int
	list      bool
	worst     bool
	cmd       *cobra.Command
}

func (t *mutationTally) of(k compare.Kind) *[3]int {
	if t.kinds[k] == nil {
		t.kinds[k] = new([3]int)
	}
	return t.kinds[k]
}

func (t *mutationTally) piece(file string, data []byte, rng *rand.Rand, rounds int) error {
	name := filepath.Base(file)
	old, err := opendata.ParseScore(name, data)
	if err != nil {
		return err
	}
	for range rounds {
		for _, m := range mutants.All {
			if err := t.trial(name, data, old, rng, []mutants.Mutation{m}, m.Name); err != nil {
				return err
			}
		}
		for _, n := range []int{4, 8, 16} { // mixtures, under changes that mean nothing
			var mix []mutants.Mutation
			for range n {
				mix = append(mix, mutants.All[rng.IntN(len(mutants.All))])
			}
			slices.SortStableFunc(mix, func(a, b mutants.Mutation) int { return cmp.Compare(a.Late, b.Late) })
			if err := t.trial(name, data, old, rng, mix, fmt.Sprintf("mixture of %d", n)); err != nil {
				return err
			}
		}
	}
	return nil
}

func (t *mutationTally) trial(name string, data []byte, old *score.Score, rng *rand.Rand, mix []mutants.Mutation, what string) error {
	d, err := mutants.New(name, data, old, rng)
	if err != nil {
		return err
	}
	done := 0
	for _, m := range mix {
		if m.Apply(d) {
			done++
			if m.Neutral {
				t.neutral++
			} else {
				t.mutations++
			}
		}
	}
	if done == 0 {
		return nil
	}
	t.trials++
	a, b, truths, err := d.Finish()
	if err != nil {
		return fmt.Errorf("%s, %s: %w", name, what, err)
	}
	p := compare.Scores(name, a, b)
	missed, invented := t.judge(p.Changes, truths, a.Score, b.Score)
	if len(missed)+len(invented) > 0 && t.list {
		out := t.cmd.OutOrStdout()
		fmt.Fprintf(out, "%s: %s\n", name, what)
		for _, m := range missed {
			fmt.Fprintf(out, "    missed   %s a=%d b=%d %s\n", m.Kind, m.A, m.B, truthWords(m, a.Score, b.Score))
		}
		for _, c := range invented {
			fmt.Fprintf(out, "    invented %s m. %s beat %s %s: %q %q\n", c.Kind, c.At().Measure, c.At().Beat, c.At().Pitch, c.Old, c.New)
		}
		if t.worst {
			_ = os.WriteFile("mutant-old.xml", data, 0o644)
			_ = os.WriteFile("mutant-new.xml", []byte(d.Text), 0o644)
			return fmt.Errorf("stopped; see mutant-old.xml and mutant-new.xml")
		}
	}
	return nil
}

func truthWords(t mutants.Truth, a, b *score.Score) string {
	switch {
	case t.Measure:
		return ""
	case t.A >= 0:
		return a.Place(t.A) + " " + a.Notes[t.A].Pitch.String()
	case t.B >= 0:
		return b.Place(t.B) + " " + b.Notes[t.B].Pitch.String()
	}
	return ""
}

// judge pairs what was told with what was planted.
func (t *mutationTally) judge(changes []compare.Change, truths []mutants.Truth, a, b *score.Score) (missed []mutants.Truth, invented []compare.Change) {
	used := make([]bool, len(changes))
	for _, want := range truths {
		found := -1
		for pass := 0; pass < 2 && found < 0; pass++ {
			for i := range changes {
				if !used[i] && changes[i].Kind == want.Kind && fits(&changes[i], want, a, b, pass) {
					found = i
					break
				}
			}
		}
		if found < 0 {
			missed = append(missed, want)
			t.of(want.Kind)[1]++
			continue
		}
		used[found] = true
		t.of(want.Kind)[0]++
	}
	for i := range changes {
		if !used[i] {
			invented = append(invented, changes[i])
			t.of(changes[i].Kind)[2]++
		}
	}
	return missed, invented
}

// fits tells whether a change is the planted one: at its note or measure; in a
// second pass, a measure with the same music, or a note of the same key at the
// same moment, may stand for it, as nobody could tell them apart.
func fits(c *compare.Change, want mutants.Truth, a, b *score.Score, pass int) bool {
	switch {
	case want.Measure && want.A >= 0:
		return c.A != nil && (c.A.Index == want.A || pass > 0 && sameMusic(a, c.A.Index, want.A))
	case want.Measure:
		return c.B != nil && (c.B.Index == want.B || pass > 0 && sameMusic(b, c.B.Index, want.B))
	case want.A >= 0 && c.A != nil && c.A.Note >= 0:
		return c.A.Note == want.A || pass > 0 && mutants.SameKey(a, c.A.Note, want.A)
	case want.B >= 0 && c.B != nil && c.B.Note >= 0:
		return c.B.Note == want.B || pass > 0 && mutants.SameKey(b, c.B.Note, want.B)
	}
	// Hand signs stand at a moment.
	return c.At().Note < 0 && want.B >= 0 && c.B != nil && c.B.Index == b.Notes[want.B].Measure && c.B.Onset == b.Notes[want.B].Onset
}

func sameMusic(s *score.Score, i, j int) bool { return musicOf(s, i) == musicOf(s, j) }

func musicOf(s *score.Score, measure int) string {
	piano := s.PianoParts()
	var rows []string
	for i := range s.Notes {
		if n := &s.Notes[i]; n.Measure == measure && n.Kind == score.Pitched && (len(piano) == 0 || slices.Contains(piano, n.Part)) {
			rows = append(rows, fmt.Sprint(n.Onset, n.Midi, n.Grace))
		}
	}
	slices.Sort(rows)
	return strings.Join(rows, "\n")
}

func (t *mutationTally) print() {
	out := t.cmd.OutOrStdout()
	fmt.Fprintf(out, "%d differences planted and %d changes that mean nothing, in %d trials\n", t.mutations, t.neutral, t.trials)
	fmt.Fprintf(out, "%-20s %6s %6s %8s %9s %7s\n", "kind", "found", "missed", "invented", "precision", "recall")
	var sum [3]int
	for _, k := range compare.Kinds() {
		v := t.kinds[k]
		if v == nil {
			continue
		}
		for i := range sum {
			sum[i] += v[i]
		}
		printShare(t.cmd, string(k), *v)
	}
	printShare(t.cmd, "all", sum)
}

func printShare(cmd *cobra.Command, name string, v [3]int) {
	fmt.Fprintf(cmd.OutOrStdout(), "%-20s %6d %6d %8d %9.4f %7.4f\n", name, v[0], v[1], v[2], figures.Quotient(v[0], v[0]+v[2]), figures.Quotient(v[0], v[0]+v[1]))
}
