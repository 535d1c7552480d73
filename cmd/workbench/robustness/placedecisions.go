package robustness

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
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/pipeline/3_records/decision"
)

// placing takes decisions through re-engravings and edits of their scores and counts which notes they land on.
type placing struct {
	sample              opendata.Sample
	rounds, notes, most int
	passages            int
	list                bool

	out                           io.Writer
	pieces, versions, changes     int
	placed, wrong, unplaced, gone int
	besideLost                    int // notes found of decisions that have lost another
}

func placeDecisionsCommand() *cobra.Command {
	t := &placing{}
	return measurement.Measurement{
		Use:   "place-decisions",
		Short: "take decisions through random re-engravings and edits: how many land on a wrong note, how many are unplaced",
		Long: `place-decisions takes scores evenly from the fingered and the engraved material, decides the fingers of
some notes and passages of each, changes the score in many ways, and looks on which notes the decisions then
stand, note by note.`,
		Fails: "a decision landed on a wrong note",
		Flags: func(f *pflag.FlagSet) {
			t.sample.Flags(f, 50)
			f.IntVar(&t.rounds, "rounds", 10, "changed versions of each score")
			f.IntVar(&t.notes, "decisions", 60, "decisions on each score, one note each")
			f.IntVar(&t.passages, "passages", 10, "decisions on each score on all notes of a staff in one to four measures")
			f.IntVar(&t.most, "changes", 8, "a version has from 1 to so many changes")
			f.BoolVar(&t.list, "list", false, "list every decision on a wrong note, and those without a place")
		},
		Run: func(_ context.Context, out io.Writer, _ []string) error {
			t.out = out
			if err := t.sample.Each(t.piece); err != nil {
				return err
			}
			t.print()
			if t.wrong > 0 {
				return measurement.Failed("%d decisions landed on a wrong note", t.wrong)
			}
			return nil
		},
	}.Command()
}

func (t *placing) piece(name string, data []byte, rng *rand.Rand) error {
	original, err := alteration.Read(name, data)
	if err != nil {
		return err
	}
	first := original.Draft(rng)
	var candidates []int
	for _, e := range first.Notes {
		candidates = append(candidates, first.OldN[e])
	}
	slices.Sort(candidates)
	rng.Shuffle(len(candidates), func(i, j int) { candidates[i], candidates[j] = candidates[j], candidates[i] })
	f := decision.NewFinder(original.Score)
	d := &decided{original: original}
	decide := func(notes []int) {
		addresses := original.Score.Addresses()
		slices.SortFunc(notes, func(a, b int) int { return decision.InTime(addresses[a], addresses[b]) })
		d.decisions, d.notes = append(d.decisions, decideRun(f, notes)), append(d.notes, notes)
	}
	for _, n := range candidates[:min(t.notes, len(candidates))] {
		decide([]int{n})
	}
	for _, n := range candidates[:min(t.passages, len(candidates))] {
		first, measures := &original.Score.Notes[n], 1+rng.IntN(4)
		var notes []int
		for _, m := range candidates {
			o := &original.Score.Notes[m]
			if o.Part == first.Part && o.Staff == first.Staff && o.Measure >= first.Measure && o.Measure < first.Measure+measures {
				notes = append(notes, m)
			}
		}
		decide(notes)
	}
	if _, d.decisions, err = programruns.ThroughTheirFile(f, d.decisions); err != nil {
		return err
	}
	t.pieces++
	for range t.rounds {
		if err := t.version(d, rng); err != nil {
			return err
		}
	}
	return nil
}

// version changes the score and looks where the decisions on it stand.
func (t *placing) version(d *decided, rng *rand.Rand) error {
	draft := d.original.Draft(rng)
	for range 1 + rng.IntN(t.most) {
		if alteration.All[rng.IntN(len(alteration.All))].Apply(draft) {
			t.changes++
		}
	}
	s, _, landings, err := d.landings(draft)
	if err != nil {
		return err
	}
	t.versions++
	found := make([]int, len(d.decisions))
	for i := range landings {
		l := &landings[i]
		there := l.there && s.Notes[l.truth].Midi == l.ref.Midi // another pitch is another note
		if l.found >= 0 {
			found[l.decision]++
		}
		switch {
		case l.found < 0 && there:
			t.unplaced++
			t.say("%s: %s, %s: unplaced: %s\n", d.original.Name, s.Place(l.truth), l.ref.Pitch, l.why)
		case l.found < 0:
			t.gone++
		case there && l.isRight(s):
			t.placed++
		default:
			t.wrong++
			t.say("%s: WRONG: was %s, %s; landed on %s (there: %v, truth %d, got %d)\n",
				d.original.Name, d.original.Score.Place(l.old), l.ref.Pitch, s.Place(l.found), there, l.truth, l.found)
		}
	}
	for k, n := range found {
		if n < len(d.decisions[k].Notes) {
			t.besideLost += n
		}
	}
	return nil
}

func (t *placing) say(format string, args ...any) {
	if t.list {
		fmt.Fprintf(t.out, format, args...)
	}
}

func (t *placing) print() {
	all := t.placed + t.wrong + t.unplaced
	fmt.Fprintf(t.out, "%d pieces, %d changed versions, %d changes in them\n", t.pieces, t.versions, t.changes)
	fmt.Fprintf(t.out, "notes of decisions that are there: %d; placed on it %d, unplaced %d (%.2f %%)\n",
		all, t.placed, t.unplaced, 100*figures.Quotient(t.unplaced, all))
	fmt.Fprintf(t.out, "notes found of decisions that have lost another note, which hold without it: %d\n", t.besideLost)
	fmt.Fprintf(t.out, "notes of decisions that are gone, all unplaced: %d\n", t.gone)
	fmt.Fprintf(t.out, "on a wrong note: %d\n", t.wrong)
}
