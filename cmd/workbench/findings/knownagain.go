package findings

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/state"
)

// knownAgainCommand changes scores as an engraver or a corrector does and
// counts which findings an earlier report knows again.
func knownAgainCommand() *cobra.Command {
	var sample opendata.Sample
	list := false
	return measurement.Measurement{
		Use:   "known-again",
		Short: "lint real scores, re-engrave and edit them, lint again: which findings are known again",
		Long: `known-again lints real scores before and after changes to their files and compares with the first report,
as lint --baseline does. A finding of the same rule at the same notes must be known again; one at other
notes must not be. Where a change leaves a finding without its notes it is neither.`,
		Flags: func(f *pflag.FlagSet) {
			sample.Flags(f, 60)
			f.BoolVar(&list, "list", false, "list every finding that is not known again, or mistaken for another")
		},
		Run: func(_ context.Context, out io.Writer, _ []string) error {
			t := newKnownAgainTally()
			if err := sample.Each(t.score); err != nil {
				return err
			}
			t.print(out)
			if list {
				for _, line := range t.lines {
					fmt.Fprintln(out, line)
				}
			}
			return nil
		},
	}.Command()
}

// changes are made one after the other.
type changes []func(*alteration.Draft) bool

// versions are what a score may come back as.
var versions = []struct {
	name    string
	changes changes
}{
	{"engraved anew", changes{alteration.RenumberVoices, alteration.Redivide, alteration.Renumber}},
	{"measures inserted", changes{alteration.InsertMeasures}},
	{"measures cut", changes{alteration.CutMeasures}},
	{"a note corrected", changes{alteration.OtherPitch}},
	{"five notes corrected", changes{
		alteration.OtherPitch, alteration.OtherPitch, alteration.DropNote, alteration.AddNote, alteration.OtherPitch,
	}},
	{"engraved anew, inserted, corrected", changes{
		alteration.OtherPitch, alteration.OtherPitch, alteration.InsertMeasures,
		alteration.RenumberVoices, alteration.Redivide, alteration.Renumber,
	}},
}

type knownAgainCount struct {
	scores      int
	same, known int // findings of the same rule at the same notes; of these known again
	others      int // findings at other notes, and of these taken for known ones
	mistaken    int
}

// knownAgainTally counts by version.
type knownAgainTally struct {
	counts []knownAgainCount
	lines  []string // what was not known again, and what was mistaken
}

func newKnownAgainTally() *knownAgainTally {
	return &knownAgainTally{counts: make([]knownAgainCount, len(versions))}
}

func (t *knownAgainTally) print(out io.Writer) {
	table := figures.NewTable("version", "scores", "the same", "known", "share", "others", "mistaken")
	for v, n := range t.counts {
		table.Row(versions[v].name, n.scores, n.same, n.known, figures.Quotient(n.known, n.same), n.others, n.mistaken)
	}
	table.Print(out)
}

// score changes a score in every way and counts.
func (t *knownAgainTally) score(name string, data []byte, rng *rand.Rand) error {
	before, err := linted(passes[0], name, data, nil)
	if err != nil {
		return fmt.Errorf("linting %s: %w", name, err)
	}
	original, err := alteration.Of(name, data, before.Score)
	if err != nil {
		return err
	}
	for v := range versions {
		d := original.Draft(rng)
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
		after, err := linted(passes[0], name, []byte(text), nil)
		if err != nil {
			return fmt.Errorf("linting %s, %s: %w", name, versions[v].name, err)
		}
		t.version(v, d, before, after)
	}
	return nil
}

// version counts, of the findings about one changed score, which are known.
func (t *knownAgainTally) version(v int, d *alteration.Draft, before, after *pipeline.PieceRun) {
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
			line := fmt.Sprintf("%s, %s: %s: %s %s", after.Piece.ID, versions[v].name, say, f.Rule, f.Place())
			t.lines = append(t.lines, line)
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
