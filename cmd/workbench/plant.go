package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
)

// plantCommand plants faults of every kind at known places in real scores,
// and counts which of them lint finds, and what it says elsewhere that it did
// not say of the untouched score.
func plantCommand() *cobra.Command {
	var shared string
	var scores, each int
	var seed uint64
	var list bool
	c := &cobra.Command{
		Use:   "plant",
		Short: "plant fingering faults in real scores and count, by rule, what lint finds and what it invents",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			files, err := mutationMaterial(shared, scores)
			if err != nil {
				return err
			}
			t := &plantTally{rules: map[string]*[3]int{}, cmd: cmd, list: list}
			for i, file := range files {
				data, err := os.ReadFile(file)
				if err != nil {
					return fmt.Errorf("reading a score: %w", err)
				}
				if err := t.piece(filepath.Base(file), data, rand.New(rand.NewPCG(seed, uint64(i))), each); err != nil {
					return err
				}
			}
			t.print()
			return nil
		},
	}
	c.Flags().StringVar(&shared, "shared", sharedFolder(), "folder of shared material")
	c.Flags().IntVar(&scores, "scores", 120, "how many scores to take")
	c.Flags().IntVar(&each, "each", 2, "how many faults of each kind to try in each score")
	c.Flags().Uint64Var(&seed, "seed", 1, "seed of the choices")
	c.Flags().BoolVar(&list, "list", false, "list every fault that was missed and every false alarm")
	return c
}

type plantTally struct {
	rules map[string]*[3]int // found, missed, false alarms
	cmd   *cobra.Command
	list  bool
	notes int
}

func (t *plantTally) of(rule string) *[3]int {
	if t.rules[rule] == nil {
		t.rules[rule] = new([3]int)
	}
	return t.rules[rule]
}

// seeded is a planted fault: the rule that must speak, and where: at a note,
// or anywhere in a measure (note -1), or anywhere at all (measure -1 too).
type seeded struct {
	rule          string
	note, measure int
	// still says whether the fault is one when everything is planted; nil: it is. Another plant may take it away: a passage that is
	// changed elsewhere does not return any more.
	still func(p *lint.Pass) bool
}

func (t *plantTally) piece(name string, data []byte, rng *rand.Rand, each int) error {
	base, err := lintWay(name, data)
	if err != nil {
		return fmt.Errorf("linting %s: %w", name, err)
	}
	d, err := newMutant(name, data, base.Score, rng)
	if err != nil {
		return err
	}
	g := &planter{mutant: d, pass: pipeline.PassOf(base), near: map[int]bool{}, rest: map[int]bool{}}
	g.prepare()
	t.notes += len(base.Score.Notes)
	for range each {
		for _, f := range plants {
			f.apply(g)
		}
	}
	text, err := d.doc.WriteToString()
	if err != nil {
		return err
	}
	after, err := lintWay(name, []byte(text))
	if err != nil {
		return fmt.Errorf("linting %s with faults: %w", name, err)
	}
	if len(after.Score.Notes) != len(base.Score.Notes) {
		return fmt.Errorf("planting in %s changed the number of notes", name)
	}
	p := pipeline.PassOf(after)
	p.Witnesses = []lint.Witness{pipeline.LintWitness("A", after.Score, g.witness(), score.Composer)}
	p.Options.ReachShare = plantedShare
	for _, f := range g.values {
		f(p)
	}
	g.truths = slices.DeleteFunc(g.truths, func(s seeded) bool { return s.still != nil && !s.still(p) })
	found := lint.Run(p, all.Rules(), nil)
	before := pipeline.PassOf(base)
	before.Options.ReachShare = plantedShare
	before.Witnesses = []lint.Witness{pipeline.LintWitness("A", base.Score, base.Score, score.Composer)}
	t.judge(name, base.Score, lint.Run(before, all.Rules(), nil), found, g)
	return nil
}

// lintWay takes a score its way under a policy that asks for reach as well.
func lintWay(name string, data []byte) (*pipeline.Way, error) {
	w := &pipeline.Way{
		Piece: &corpus.Piece{ID: name, Score: name, Scoring: corpus.TwoHands},
		Data:  data, Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
	}
	return w, pipeline.RunPiece(w)
}

// judge holds findings against what was planted. A finding that the untouched
// score had as well is no false alarm; nor is one at the planted fault itself
// by another rule, which sees the same fault from its side.
func (t *plantTally) judge(name string, s *score.Score, before, found []lint.Finding, g *planter) {
	known := map[string]int{}
	for _, f := range before {
		known[findingKey(f)]++
	}
	told := make([]bool, len(found))
	for _, want := range g.truths {
		hit := slices.IndexFunc(found, func(f lint.Finding) bool {
			return f.Rule == want.rule && (want.note < 0 && (want.measure < 0 || f.Measure == want.measure) || want.note >= 0 && slices.Contains(f.Notes, want.note))
		})
		if hit < 0 {
			t.of(want.rule)[1]++
			if t.list {
				place := ""
				if want.note >= 0 {
					place = s.Place(want.note)
				}
				fmt.Fprintf(t.cmd.OutOrStdout(), "missed  %s %s note %d measure %d %s\n", name, want.rule, want.note, want.measure, place)
			}
			continue
		}
		told[hit] = true
		t.of(want.rule)[0]++
	}
	for i, f := range found {
		if told[i] || g.touchedBy(f) {
			continue
		}
		if key := findingKey(f); known[key] > 0 {
			known[key]--
			continue
		}
		t.of(f.Rule)[2]++
		if t.list {
			fmt.Fprintf(t.cmd.OutOrStdout(), "alarm   %s %s measure %d notes %v: %s\n", name, f.Rule, f.Measure, f.Notes, f.Message)
		}
	}
}

func findingKey(f lint.Finding) string {
	if len(f.Notes) > 0 {
		return fmt.Sprint(f.Rule, f.Notes[0])
	}
	return fmt.Sprint(f.Rule, f.Measure, f.Onset)
}

func (t *plantTally) print() {
	out := t.cmd.OutOrStdout()
	var names []string
	var sum [3]int
	for name, v := range t.rules {
		names = append(names, name)
		for i := range sum {
			sum[i] += v[i]
		}
	}
	slices.Sort(names)
	fmt.Fprintf(out, "%d faults planted in scores of %d notes\n%-30s %6s %6s %7s %6s\n", sum[0]+sum[1], t.notes, "rule", "found", "missed", "alarms", "share")
	for _, name := range append(names, "all") {
		v := sum
		if name != "all" {
			v = *t.rules[name]
		}
		share := 1.0
		if v[0]+v[1] > 0 {
			share = float64(v[0]) / float64(v[0]+v[1])
		}
		fmt.Fprintf(out, "%-30s %6d %6d %7d %6.3f\n", name, v[0], v[1], v[2], share)
	}
	for _, r := range all.Rules() {
		if t.rules[r.Name] == nil || t.rules[r.Name][0]+t.rules[r.Name][1] == 0 {
			fmt.Fprintf(out, "nothing planted for %s\n", r.Name)
		}
	}
}
