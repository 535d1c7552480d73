package findings

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/mutants"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
)

// knownAgainCommand changes scores as an engraver or a corrector does and
// counts which findings an earlier report knows again.
func knownAgainCommand() *cobra.Command {
	var shared string
	var scores int
	var seed uint64
	var list bool
	c := &cobra.Command{
		Use:   "known-again",
		Short: "lint real scores, re-engrave and edit them, lint again: which findings are known again",
		Long: `known-again lints real scores before and after changes to their files and compares with the first report, as lint --baseline does.
A finding of the same rule at the same notes must be known again; one at other notes must not be. Where a change leaves a finding
without its notes it is neither.`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			files, err := opendata.Scores(shared, scores)
			if err != nil {
				return err
			}
			t := &knownAgainTally{counts: make([]knownAgainCount, len(versions))}
			for i, file := range files {
				if err := t.piece(file, rand.New(rand.NewPCG(seed, uint64(i)))); err != nil {
					return err
				}
			}
			out := cmd.OutOrStdout()
			fmt.Fprintf(out, "%-34s %6s %8s %6s %6s %8s %9s\n", "version", "scores", "the same", "known", "share", "others", "mistaken")
			for v, n := range t.counts {
				fmt.Fprintf(out, "%-34s %6d %8d %6d %6.4f %8d %9d\n", versions[v].name, n.scores, n.same, n.known, figures.Quotient(n.known, n.same), n.others, n.mistaken)
			}
			if list {
				for _, line := range t.lines {
					fmt.Fprintln(out, line)
				}
			}
			return nil
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().IntVar(&scores, "scores", 60, "how many scores to take")
	c.Flags().Uint64Var(&seed, "seed", 1, "seed of the choices")
	c.Flags().BoolVar(&list, "list", false, "list every finding that is not known again, or mistaken for another")
	return c
}

// versions are the ways in which a score comes back.
var versions = []struct {
	name    string
	changes []func(*mutants.Mutant) bool
}{
	{"engraved anew", []func(*mutants.Mutant) bool{mutants.RenumberVoices, mutants.Redivide, mutants.Renumber}},
	{"measures inserted", []func(*mutants.Mutant) bool{mutants.InsertMeasures}},
	{"measures cut", []func(*mutants.Mutant) bool{mutants.CutMeasures}},
	{"a note corrected", []func(*mutants.Mutant) bool{mutants.OtherPitch}},
	{"five notes corrected", []func(*mutants.Mutant) bool{mutants.OtherPitch, mutants.OtherPitch, mutants.DropNote, mutants.AddNote, mutants.OtherPitch}},
	{"engraved anew, inserted, corrected", []func(*mutants.Mutant) bool{mutants.OtherPitch, mutants.OtherPitch, mutants.InsertMeasures, mutants.RenumberVoices, mutants.Redivide, mutants.Renumber}},
}

type knownAgainCount struct {
	scores      int
	same, known int // findings of the same rule at the same notes; of these known again
	others      int // findings at other notes, and of these taken for known ones
	mistaken    int
}

type knownAgainTally struct {
	counts []knownAgainCount
	lines  []string
}

func (t *knownAgainTally) piece(file string, rng *rand.Rand) error {
	name := filepath.Base(file)
	data, err := os.ReadFile(file)
	if err != nil {
		return fmt.Errorf("reading a score: %w", err)
	}
	before, err := lintWay(name, data, nil)
	if err != nil {
		return fmt.Errorf("linting %s: %w", name, err)
	}
	for v := range versions {
		d, err := mutants.New(name, data, before.Score, rng)
		if err != nil {
			return err
		}
		changed := false
		for _, change := range versions[v].changes {
			changed = change(d) || changed
		}
		if !changed {
			continue
		}
		text, err := d.Doc.WriteToString()
		if err != nil {
			return err
		}
		after, err := lintWay(name, []byte(text), nil)
		if err != nil {
			return fmt.Errorf("linting %s, %s: %w", name, versions[v].name, err)
		}
		t.version(v, d, before, after)
	}
	return nil
}

// version counts, of the findings about one changed score, which are known.
func (t *knownAgainTally) version(v int, d *mutants.Mutant, before, after *pipeline.PieceRun) {
	now := d.Indices()
	moved := map[int]int{} // where a note of the old score stands now
	for e, n := range d.OldN {
		if at, there := now[e]; there {
			moved[n] = at
		}
	}
	was := map[string]bool{}
	for i := range before.Result.Findings {
		f := &before.Result.Findings[i]
		var notes []int
		for _, n := range f.Notes {
			if at, there := moved[n]; there {
				notes = append(notes, at)
			}
		}
		if len(f.Notes) > 0 && len(notes) == len(f.Notes) {
			was[atNotes(f.Rule, notes)] = true
		}
	}
	o := outcomeOf(after)
	since := state.NewBaseline(state.KnownOf(outcomeOf(before))).Since(o)
	count := &t.counts[v]
	count.scores++
	for i := range o.Findings {
		f := &o.Findings[i]
		fresh := since.Standing(f) == "new"
		say := ""
		switch {
		case len(f.Notes) == 0:
		case was[atNotes(f.Rule, f.Notes)]:
			count.same++
			if fresh {
				say = "not known again"
			} else {
				count.known++
			}
		default:
			count.others++
			if !fresh {
				count.mistaken++
				say = "mistaken for another"
			}
		}
		if say != "" {
			t.lines = append(t.lines, fmt.Sprintf("%s, %s: %s: %s %s", after.Piece.ID, versions[v].name, say, f.Rule, f.Place()))
		}
	}
}

func atNotes(rule string, notes []int) string {
	notes = slices.Clone(notes)
	slices.Sort(notes)
	return fmt.Sprint(rule, notes)
}

func outcomeOf(w *pipeline.PieceRun) *state.Outcome {
	return &state.Outcome{Piece: w.Piece.ID, File: w.Piece.Score, Findings: w.Result.Findings, Stets: w.Result.Stets}
}
