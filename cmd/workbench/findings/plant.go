package findings

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"github.com/beevik/etree"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/17_inspect"
	"fingerproof/policies"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
)

// plantCommand plants faults of every kind at known places in real scores,
// and counts which of them lint finds, and what it says elsewhere that it did
// not say of the untouched score.
func plantCommand() *cobra.Command {
	var sample opendata.Sample
	t := newPlantTally()
	return measurement.Measurement{
		Use:   "plant",
		Short: "plant fingering faults in real scores and count, by rule, what lint finds and what it invents",
		Long: `plant puts faults of every kind at known places in real scores, lints the scores before and after, and
holds the findings against what was planted. Columns, by rule:
  planted, found, missed
                 faults, and their share that is found
  before         what lint says of the untouched score, in all and in a thousand notes: judged by hand, see draw-findings
  own            at the notes of a planted fault, by another rule than the one it was planted for:
                 the same fault from its side
  follows        at other notes whose finger, hand or reach is worked out otherwise since the fault was
                 planted
  alarms         at other notes for which nothing has changed, in all and in a thousand notes: false
Own, follows and alarms count only what lint did not say of the untouched score.`,
		Flags: func(f *pflag.FlagSet) {
			sample.Flags(f, 120)
			f.IntVar(&t.each, "each", t.each, "how many faults of each kind to try in each score")
			f.BoolVar(&t.list, "list", false, "list every fault that was missed and every false alarm")
		},
		Run: func(_ context.Context, out io.Writer, _ []string) error {
			t.out = out
			if err := sample.Each(t.score); err != nil {
				return err
			}
			t.print()
			return nil
		},
	}.Command()
}

// seeded is a planted fault: the rule that must speak, and where: at a note,
// or anywhere in a measure (note -1), or anywhere at all (measure -1 too).
type seeded struct {
	rule          string
	note, measure int
	says          string // what the message must hold
	// or is the rule that speaks at the note in its place where other faults around have changed what this one is.
	or string
	// still says whether the fault is one when everything is planted; nil: it is. Another plant may take it away: a
	// passage that is changed elsewhere does not return any more.
	still func(p *lint.Inspection) bool
}

// pass is one planting of a score: what of, under which policy, and how the score is dressed before.
type pass struct {
	faults []fault
	policy func() (*policies.Policy, error)
	dress  func(*etree.Document)
}

// passes are the plantings of each score.
var passes = []pass{
	{faults: faults, policy: policyOf(plantedPolicy)},
	{faults: faultsOfEditions, policy: policyOf(plantedPolicy + "digits: performance\n"), dress: asEdition},
	{faults: slices.Concat(faultsOfBrackets, faultsOfLooks), policy: policyOf(plantedPolicy)},
	{faults: faultsOfExport, policy: policyOf(plantedPolicy)},
}

// score plants faults in a score and judges what lint says.
func (t *plantTally) score(name string, data []byte, rng *rand.Rand) error {
	for _, p := range passes {
		if err := t.plant(p, name, data, rng); err != nil {
			return err
		}
	}
	return t.parts(name, data)
}

func (t *plantTally) plant(pass pass, name string, data []byte, rng *rand.Rand) error {
	base, err := linted(pass, name, data, nil)
	if err != nil {
		return fmt.Errorf("linting %s: %w", name, err)
	}
	original, err := alteration.Of(name, data, base.Score)
	if err != nil {
		return err
	}
	if pass.dress != nil { // the score before the faults is dressed as well
		d := original.Draft(rng)
		pass.dress(d.Doc)
		text, err := d.Doc.WriteToString()
		if err != nil {
			return err
		}
		data = []byte(text)
		if base, err = linted(pass, name, data, nil); err != nil {
			return fmt.Errorf("linting %s: %w", name, err)
		}
		if original, err = alteration.Of(name, data, base.Score); err != nil {
			return err
		}
	}
	d := original.Draft(rng)
	before, err := inspection(base)
	if err != nil {
		return err
	}
	g := &planter{Draft: d, base: before, near: map[int]string{}, rest: map[int]bool{}, named: map[string]bool{}}
	g.prepare()
	t.notes += len(base.Score.Notes)
	for range t.each {
		for _, f := range pass.faults {
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
	after, err := linted(pass, name, []byte(text), written)
	if err != nil {
		return fmt.Errorf("linting %s with faults: %w", name, err)
	}
	if len(after.Score.Notes) != len(base.Score.Notes) {
		return fmt.Errorf("planting in %s changed the number of notes", name)
	}
	p, err := inspection(after)
	if err != nil {
		return err
	}
	witness, err := g.witness(name)
	if err != nil {
		return err
	}
	p.Witnesses = []lint.Witness{inspect.WitnessOf("A", p.Score, witness, score.Composer)}
	p.Options.ReachShare, before.Options.ReachShare = plantedShare, plantedShare
	for _, f := range g.values {
		f(p)
	}
	g.truths = slices.DeleteFunc(g.truths, func(s seeded) bool { return s.still != nil && !s.still(p) })
	before.Witnesses = []lint.Witness{inspect.WitnessOf("A", before.Score, before.Score, score.Composer)}
	t.judge(verdict{
		name: name, base: before, planted: p,
		before: lint.Run(before, all.Rules(), nil),
		found:  append(lint.Run(p, all.Rules(), nil), remarked(after)...),
	}, g)
	return nil
}

// inspection gathers what lint looks at in a score, or in an edition as its reader sees it.
func inspection(w *pipeline.PieceRun) (*lint.Inspection, error) {
	if w.Page == nil {
		return inspect.InspectionOf(w.InspectInput()), nil
	}
	in := w.Page.InspectInput()
	var err error
	in.Whose, err = attribute.Whose(w.Page.Score, w.Policy.TextDigits())
	return inspect.InspectionOf(in), err
}

// linted takes a score through the program under the policy of a pass.
func linted(pass pass, name string, data []byte, decided []decision.Decision) (*pipeline.PieceRun, error) {
	policy, err := pass.policy()
	if err != nil {
		return nil, err
	}
	w := programruns.Of(name, data, policy)
	w.Decisions, w.Today = decided, plantedToday
	return w, pipeline.RunPiece(w)
}

// policyOf gives a policy that goes through a file, as everybody's does.
func policyOf(text string) func() (*policies.Policy, error) {
	return sync.OnceValues(func() (*policies.Policy, error) {
		dir, err := os.MkdirTemp("", "planting")
		if err != nil {
			return nil, fmt.Errorf("making a folder for the policy: %w", err)
		}
		defer os.RemoveAll(dir)
		path := filepath.Join(dir, policies.FileName)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			return nil, fmt.Errorf("writing the policy: %w", err)
		}
		return policies.Load(path)
	})
}
