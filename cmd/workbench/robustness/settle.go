package robustness

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"

	"github.com/beevik/etree"
	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/mutants"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
)

// settleCommand takes decisions through re-engravings and edits of their
// scores and counts which notes they land on.
func settleCommand() *cobra.Command {
	var shared string
	var scores, rounds, notes, most int
	var seed uint64
	var list bool
	c := &cobra.Command{
		Use:   "settle",
		Short: "take decisions through random re-engravings and edits: how many land on a wrong note, how many are unplaced",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			files, err := opendata.Scores(shared, scores)
			if err != nil {
				return err
			}
			t := &settleTally{cmd: cmd, list: list}
			for i, file := range files[:min(scores, len(files))] {
				data, err := os.ReadFile(file)
				if err != nil {
					return fmt.Errorf("reading a score: %w", err)
				}
				rng := rand.New(rand.NewPCG(seed, uint64(i)))
				if err := t.piece(filepath.Base(file), data, rng, rounds, notes, most); err != nil {
					return err
				}
			}
			t.print()
			if t.wrong > 0 {
				return fmt.Errorf("%d decisions landed on a wrong note", t.wrong)
			}
			return nil
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().IntVar(&scores, "scores", 50, "how many scores to take")
	c.Flags().IntVar(&rounds, "rounds", 10, "changed versions of each score")
	c.Flags().IntVar(&notes, "decisions", 60, "decisions on each score, one note each")
	c.Flags().IntVar(&most, "changes", 8, "a version has from 1 to so many changes")
	c.Flags().Uint64Var(&seed, "seed", 1, "seed of the choices")
	c.Flags().BoolVar(&list, "list", false, "list every decision on a wrong note")
	return c
}

type settleTally struct {
	cmd                           *cobra.Command
	list                          bool
	pieces, versions, changes     int
	placed, wrong, unplaced, gone int
}

func (t *settleTally) piece(name string, data []byte, rng *rand.Rand, rounds, notes, most int) error {
	old, err := opendata.ParseScore(name, data)
	if err != nil {
		return err
	}
	first, err := mutants.New(name, data, old, rng)
	if err != nil {
		return err
	}
	var candidates []int
	for _, e := range first.Notes {
		candidates = append(candidates, first.OldN[e])
	}
	slices.Sort(candidates)
	rng.Shuffle(len(candidates), func(i, j int) { candidates[i], candidates[j] = candidates[j], candidates[i] })
	chosen := candidates[:min(notes, len(candidates))]
	f := decision.NewFinder(old)
	var decisions []decision.Decision
	for k, n := range chosen {
		decisions = append(decisions, decision.Decision{Verb: decision.Amend, On: decision.Notes, By: "AB", When: "2026-01-01", Line: k, Notes: []decision.NoteRef{f.Ref(n, []int{1 + k%5})}})
	}
	// They go through their file, as everybody's do.
	text, err := decision.Append("decisions/p.AB.yaml", nil, "p", "AB", decisions)
	if err != nil {
		return err
	}
	if decisions, _, err = decision.Parse("decisions/p.AB.yaml", text); err != nil {
		return err
	}
	t.pieces++
	for range rounds {
		if err := t.version(name, data, old, rng, chosen, decisions, most); err != nil {
			return err
		}
	}
	return nil
}

func (t *settleTally) version(name string, data []byte, old *score.Score, rng *rand.Rand, chosen []int, decisions []decision.Decision, most int) error {
	d, err := mutants.New(name, data, old, rng)
	if err != nil {
		return err
	}
	done := 0
	for range 1 + rng.IntN(most) {
		if mutants.All[rng.IntN(len(mutants.All))].Apply(d) {
			done++
		}
	}
	text, err := d.Doc.WriteToString()
	if err != nil {
		return err
	}
	s, err := opendata.ParseScore(name, []byte(text))
	if err != nil {
		return err
	}
	oldE := map[int]*etree.Element{}
	for e, n := range d.OldN {
		oldE[n] = e
	}
	now := d.Indices()
	t.versions++
	t.changes += done
	f := decision.NewFinder(s)
	for k := range decisions {
		ref := &decisions[k].Notes[0]
		truth, there := now[oldE[chosen[k]]]
		there = there && s.Notes[truth].Midi == ref.Midi // another pitch is another note
		got, why, _ := f.Find(ref)
		switch {
		case got < 0 && there:
			t.unplaced++
			if t.list {
				fmt.Fprintf(t.cmd.OutOrStdout(), "%s: %s, %s: unplaced: %s\n", name, s.Place(truth), ref.Pitch, why)
			}
		case got < 0:
			t.gone++
		case there && (got == truth || sameStroke(s, got, truth)):
			t.placed++
		default:
			t.wrong++
			if t.list {
				fmt.Fprintf(t.cmd.OutOrStdout(), "%s: WRONG: was %s, %s; landed on %s (there: %v, truth %d, got %d)\n", name, old.Place(chosen[k]), ref.Pitch, s.Place(got), there, truth, got)
			}
		}
	}
	return nil
}

// sameStroke reports whether two notes are one key struck at one moment: two
// stems of a unison, which nobody can tell apart.
func sameStroke(s *score.Score, i, j int) bool {
	return mutants.SameKey(s, i, j) && s.Notes[i].Grace == s.Notes[j].Grace && s.Notes[i].Staff == s.Notes[j].Staff
}

func (t *settleTally) print() {
	out := t.cmd.OutOrStdout()
	all := t.placed + t.wrong + t.unplaced
	fmt.Fprintf(out, "%d pieces, %d changed versions, %d changes in them\n", t.pieces, t.versions, t.changes)
	fmt.Fprintf(out, "decisions whose note is there: %d; placed on it %d, unplaced %d (%.2f %%)\n", all, t.placed, t.unplaced, 100*figures.Quotient(t.unplaced, all))
	fmt.Fprintf(out, "decisions whose note is gone, all unplaced: %d\n", t.gone)
	fmt.Fprintf(out, "on a wrong note: %d\n", t.wrong)
}
