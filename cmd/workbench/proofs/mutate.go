package proofs

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/alteration"
	"fingerproof/cmd/workbench/figures"
	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/pipeline/4_services/compare"
)

// mutating plants known differences in real scores, alone and mixed with each other and with changes that mean
// nothing, and counts how many the comparison finds and how many it invents.
type mutating struct {
	sample     opendata.Sample
	rounds     int
	list, stop bool

	out                     io.Writer
	kinds                   map[compare.Kind]*[3]int // found, missed, invented
	planted, neutral, tries int
}

func mutateCommand() *cobra.Command {
	t := &mutating{kinds: map[compare.Kind]*[3]int{}}
	return measurement.Measurement{
		Use:   "mutate",
		Short: "plant known differences in real scores and measure precision and recall of the comparison by kind",
		Long: `mutate takes scores evenly from the fingered and the engraved material, plants one difference of
each kind in each, and then mixtures of them under changes that mean nothing, as an engraver makes
them. It compares before and after and counts by kind which of the planted differences are found,
and what is invented.`,
		Flags: func(f *pflag.FlagSet) {
			t.sample.Flags(f, 60)
			f.IntVar(&t.rounds, "rounds", 2, "rounds of every single difference in each score, and of mixtures")
			f.BoolVar(&t.list, "list", false, "list every difference that was not found exactly")
			f.BoolVar(&t.stop, "stop", false, "with --list: stop at the first not found exactly, and write both scores")
		},
		Run: func(_ context.Context, out io.Writer, _ []string) error {
			t.out = out
			if err := t.sample.Each(t.piece); err != nil {
				return err
			}
			t.print()
			return nil
		},
	}.Command()
}

func (t *mutating) of(k compare.Kind) *[3]int {
	if t.kinds[k] == nil {
		t.kinds[k] = new([3]int)
	}
	return t.kinds[k]
}

// all are the alterations of fingering and text.
var all = slices.Concat(alteration.All, alteration.Page)

func (t *mutating) piece(name string, data []byte, rng *rand.Rand) error {
	original, err := alteration.Read(name, data)
	if err != nil {
		return err
	}
	for range t.rounds {
		for _, m := range all {
			if err := t.try(original, rng, m.Name, compare.Usual(), m); err != nil {
				return err
			}
		}
		for _, m := range alteration.Layout {
			if err := t.try(original, rng, m.Name, compare.Classes(), m); err != nil {
				return err
			}
			m.Neutral = true // where layout is not asked for
			if err := t.try(original, rng, m.Name+", not asked for", compare.Usual(), m); err != nil {
				return err
			}
		}
		for _, n := range []int{4, 8, 16} { // mixtures, under changes that mean nothing
			var mix []alteration.Alteration
			for range n {
				mix = append(mix, all[rng.IntN(len(all))])
			}
			slices.SortStableFunc(mix, func(a, b alteration.Alteration) int { return cmp.Compare(a.Late, b.Late) })
			if err := t.try(original, rng, fmt.Sprintf("mixture of %d", n), compare.Usual(), mix...); err != nil {
				return err
			}
		}
	}
	return nil
}

// try alters a draft and holds what the comparison finds against what was planted.
func (t *mutating) try(o *alteration.Original, rng *rand.Rand, what string, classes []compare.Class, mix ...alteration.Alteration) error {
	d := o.Draft(rng)
	done := 0
	for _, m := range mix {
		if !m.Apply(d) {
			continue
		}
		done++
		if m.Neutral {
			t.neutral++
		} else {
			t.planted++
		}
	}
	if done == 0 {
		return nil
	}
	t.tries++
	a, b, truths, err := d.Finish()
	if err != nil {
		return fmt.Errorf("%s, %s: %w", o.Name, what, err)
	}
	if len(mix) == 1 && mix[0].Neutral {
		truths = nil
	}
	found := compare.Scores(o.Name, compare.Side(a), compare.Side(b), classes...).Changes
	m := matching{a: a.Score, b: b.Score}
	missed, invented := t.judge(m, found, truths)
	if len(missed)+len(invented) == 0 || !t.list {
		return nil
	}
	fmt.Fprintf(t.out, "%s: %s\n", o.Name, what)
	for _, want := range missed {
		fmt.Fprintf(t.out, "    missed   %s a=%d b=%d %s\n", want.Kind, want.A, want.B, m.place(want))
	}
	for _, c := range invented {
		at := c.At()
		fmt.Fprintf(t.out, "    invented %s m. %s beat %s %s: %q %q\n", c.Kind, at.Measure, at.Beat, at.Pitch, c.Old, c.New)
	}
	if t.stop {
		return t.writeBoth(o, d)
	}
	return nil
}

// writeBoth lays both texts in the working folder, to be looked at, and gives the error that ends the measurement.
func (t *mutating) writeBoth(original *alteration.Original, d *alteration.Draft) error {
	old, err := original.Text()
	if err != nil {
		return err
	}
	for name, text := range map[string]string{"mutant-old.xml": old, "mutant-new.xml": d.Text} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			return fmt.Errorf("writing a score: %w", err)
		}
	}
	return fmt.Errorf("stopped; see mutant-old.xml and mutant-new.xml")
}

// judge pairs what was found with what was planted.
func (t *mutating) judge(m matching, found []compare.Change, truths []alteration.Truth) (
	missed []alteration.Truth, invented []compare.Change,
) {
	used := make([]bool, len(found))
	for _, want := range truths {
		at := m.find(found, used, want)
		if at < 0 {
			missed = append(missed, want)
			t.of(compare.Kind(want.Kind))[1]++
			continue
		}
		used[at] = true
		t.of(compare.Kind(want.Kind))[0]++
	}
	for i := range found {
		if !used[i] {
			invented = append(invented, found[i])
			t.of(found[i].Kind)[2]++
		}
	}
	return missed, invented
}

func (t *mutating) print() {
	fmt.Fprintf(t.out, "%d differences planted and %d changes that mean nothing, in %d trials\n",
		t.planted, t.neutral, t.tries)
	table := figures.NewTable("kind", "found", "missed", "invented", "precision", "recall")
	row := func(name string, v [3]int) {
		table.Row(name, v[0], v[1], v[2], figures.Quotient(v[0], v[0]+v[2]), figures.Quotient(v[0], v[0]+v[1]))
	}
	var sum [3]int
	for _, k := range compare.Kinds() {
		v := t.kinds[k]
		if v == nil {
			continue
		}
		for i := range sum {
			sum[i] += v[i]
		}
		row(string(k), *v)
	}
	row("all", sum)
	table.Print(t.out)
}
