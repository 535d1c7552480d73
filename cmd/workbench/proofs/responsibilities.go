package proofs

import (
	"context"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/pipeline/4_stages/04_attribute"
)

// responsibilitiesCommand takes one edition of each work as text and another as witness.
func responsibilitiesCommand() *cobra.Command {
	var shared string
	return measurement.Measurement{
		Use:   "responsibilities",
		Short: "one edition as text, another as witness: whose each digit is, by work",
		Long: `responsibilities takes, for every pair of editions of a work, the first as text (its digits the
composer's) and the second as witness (an earlier hand's). It counts digits that both have alike, on
which they differ, that only the text has and that only the witness has, and looks whether each is
said to be whose it is: against the two files read independently of the alignment wherever measure,
onset and key agree, and against a witness made from the text by taking digits out, changing and
adding some, and numbering all in the old way, of which the truth is known for every digit.`,
		Fails: "some responsibilities are wrong",
		Flags: func(f *pflag.FlagSet) { opendata.FolderFlag(f, &shared) },
		Run: func(_ context.Context, out io.Writer, _ []string) error {
			return measureResponsibilities(out, opendata.Place(shared, "witnesses"))
		},
	}.Command()
}

func measureResponsibilities(out io.Writer, dir string) error {
	pairs, err := witnessPairs(dir)
	if err != nil {
		return err
	}
	var sum digitTally
	fmt.Fprintln(out, "work      text                witness              "+
		"alike differ text-only witness-only unplaced | looked up, wrong | made, wrong")
	for _, p := range pairs {
		a, b, err := p.read()
		if err != nil {
			return err
		}
		t := tallyDigits(a, b, p.b)
		t.made, t.madeWrong = madeWitness(a)
		fmt.Fprintf(out, "%-9s %-19s %-19s %6d %6d %9d %12d %8d | %9d %5d | %4d %5d\n", p.work, p.a, p.b,
			t.alike, t.differ, t.textOnly, t.witnessOnly, t.unplaced, t.looked, t.wrong, t.made, t.madeWrong)
		sum.add(t)
	}
	fmt.Fprintf(out, "all: alike %d, differ %d, text only %d, witness only %d, unplaced %d;",
		sum.alike, sum.differ, sum.textOnly, sum.witnessOnly, sum.unplaced)
	fmt.Fprintf(out, " looked up %d, wrong %d; made %d, wrong %d\n", sum.looked, sum.wrong, sum.made, sum.madeWrong)
	if wrong := sum.wrong + sum.madeWrong; wrong > 0 {
		return measurement.Failed("%d responsibilities are wrong", wrong)
	}
	return nil
}

// digitTally counts digits, by who has them, and how many of those looked at are said to be another's.
type digitTally struct {
	alike, differ, textOnly, witnessOnly, unplaced int
	looked, wrong                                  int // against the files read without alignment
	made, madeWrong                                int // against a witness of which all is known
}

func (t *digitTally) add(o digitTally) {
	t.alike += o.alike
	t.differ += o.differ
	t.textOnly += o.textOnly
	t.witnessOnly += o.witnessOnly
	t.unplaced += o.unplaced
	t.looked += o.looked
	t.wrong += o.wrong
	t.made += o.made
	t.madeWrong += o.madeWrong
}

// tallyDigits looks at the digits of a text a and of its witness b.
func tallyDigits(a, b *score.Score, siglum string) (t digitTally) {
	src := attribute.Compare(a, []witnesses.Witness{{Siglum: siglum, Responsibility: score.Earlier, Score: b}})
	t.unplaced = src.Unplaced[0]
	at := uniquePlaces(b)
	mine := uniquePlaces(a)
	same := sameKeys{keysByMeasure(a), keysByMeasure(b)}
	for i := range a.Notes {
		text, readings := a.Notes[i].Indications, src.Readings[i]
		alike := slices.ContainsFunc(src.Sigla[i], func(s []string) bool { return len(s) > 0 })
		switch {
		case len(text) > 0 && alike:
			t.alike++
		case len(text) > 0 && len(readings) > 0:
			t.differ++
		case len(text) > 0:
			t.textOnly++
		case len(readings) > 0:
			t.witnessOnly++
		}
		// The same place in both files, found without the alignment: only where the measures hold the same keys.
		key := placeOf(a, i)
		j, found := at[key]
		if !found || mine[key] != i || len(text)+len(b.Notes[j].Indications) == 0 || !same.keys(a.Notes[i].Measure) {
			continue
		}
		t.looked++
		equal := false
		for _, x := range text {
			for _, y := range b.Notes[j].Indications {
				equal = equal || len(x.Fingers) > 0 && slices.Equal(x.Fingers, y.Fingers)
			}
		}
		if equal != alike || len(readings) != len(b.Notes[j].Indications) {
			t.wrong++
		}
	}
	return t
}
