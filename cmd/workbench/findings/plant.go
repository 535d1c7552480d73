package findings

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/mutants"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
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
		Long: `plant puts faults of every kind at known places in real scores, lints the scores before and after, and holds the findings against
what was planted. Columns, by rule:
  found, missed  of the planted faults
  before         what lint says of the untouched score: judged by hand, see findings
  own            at the notes of a planted fault, by another rule than the one it was planted for: the same fault from its side
  follows        at other notes whose finger, hand or reach is worked out otherwise since the fault was planted
  alarms         at other notes for which nothing has changed: false
Own, follows and alarms count only what lint did not say of the untouched score.`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			files, err := opendata.Scores(shared, scores)
			if err != nil {
				return err
			}
			t := newPlantTally(cmd.OutOrStdout(), list)
			if err := t.all(files, seed, each); err != nil {
				return err
			}
			t.print()
			return nil
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().IntVar(&scores, "scores", 120, "how many scores to take")
	c.Flags().IntVar(&each, "each", 2, "how many faults of each kind to try in each score")
	c.Flags().Uint64Var(&seed, "seed", 1, "seed of the choices")
	c.Flags().BoolVar(&list, "list", false, "list every fault that was missed and every false alarm")
	return c
}

// seeded is a planted fault: the rule that must speak, and where: at a note,
// or anywhere in a measure (note -1), or anywhere at all (measure -1 too).
type seeded struct {
	rule          string
	note, measure int
	says          string // what the message must hold
	or            string // the rule that speaks at the note in its place where other faults around have changed what this one is
	// still says whether the fault is one when everything is planted; nil: it is. Another plant may take it away: a passage that is
	// changed elsewhere does not return any more.
	still func(p *lint.Inspection) bool
}

// all plants in every score and judges what lint says.
func (t *plantTally) all(files []string, seed uint64, each int) error {
	for i, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			return fmt.Errorf("reading a score: %w", err)
		}
		if err := t.piece(filepath.Base(file), data, rand.New(rand.NewPCG(seed, uint64(i))), each); err != nil {
			return err
		}
	}
	return nil
}

func (t *plantTally) piece(name string, data []byte, rng *rand.Rand, each int) error {
	base, err := lintWay(name, data, nil)
	if err != nil {
		return fmt.Errorf("linting %s: %w", name, err)
	}
	d, err := mutants.New(name, data, base.Score, rng)
	if err != nil {
		return err
	}
	g := &planter{Mutant: d, pass: pipeline.InspectionOf(base), near: map[int]string{}, rest: map[int]bool{}}
	g.prepare()
	t.notes += len(base.Score.Notes)
	for range each {
		for _, f := range plants {
			g.planting = f.rule
			f.apply(g)
		}
	}
	text, err := d.Doc.WriteToString()
	if err != nil {
		return err
	}
	written, err := g.written()
	if err != nil {
		return fmt.Errorf("writing decisions about %s: %w", name, err)
	}
	after, err := lintWay(name, []byte(text), written)
	if err != nil {
		return fmt.Errorf("linting %s with faults: %w", name, err)
	}
	if len(after.Score.Notes) != len(base.Score.Notes) {
		return fmt.Errorf("planting in %s changed the number of notes", name)
	}
	p := pipeline.InspectionOf(after)
	p.Witnesses = []lint.Witness{pipeline.LintWitness("A", after.Score, g.witness(), score.Composer)}
	p.Options.ReachShare = plantedShare
	for _, f := range g.values {
		f(p)
	}
	g.truths = slices.DeleteFunc(g.truths, func(s seeded) bool { return s.still != nil && !s.still(p) })
	found := append(lint.Run(p, all.Rules(), nil), remarked(after)...)
	before := pipeline.InspectionOf(base)
	before.Options.ReachShare = plantedShare
	before.Witnesses = []lint.Witness{pipeline.LintWitness("A", base.Score, base.Score, score.Composer)}
	t.judge(name, before, p, lint.Run(before, all.Rules(), nil), found, g)
	return nil
}

// lintWay takes a score its way under a policy that asks for reach as well.
func lintWay(name string, data []byte, decided []decision.Decision) (*pipeline.PieceRun, error) {
	policy, err := plantingPolicy()
	if err != nil {
		return nil, err
	}
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: name, Score: name, Scoring: corpus.TwoHands},
		Data:  data, Policy: policy, Weights: pipeline.ShippedWeights(), Decisions: decided, Today: plantedToday,
	}
	return w, pipeline.RunPiece(w)
}

// plantingPolicy goes through a file, as everybody's policy does.
var plantingPolicy = sync.OnceValues(func() (*policies.Policy, error) {
	dir, err := os.MkdirTemp("", "planting")
	if err != nil {
		return nil, fmt.Errorf("making a folder for the policy: %w", err)
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, policies.FileName)
	if err := os.WriteFile(path, []byte(plantedPolicy), 0o644); err != nil {
		return nil, fmt.Errorf("writing the policy: %w", err)
	}
	return policies.Load(path)
})
