package proofs

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/03_witnesses"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/13_credit"
)

// responsibilitiesCommand takes one edition of each work as text and another as witness.
func responsibilitiesCommand() *cobra.Command {
	var shared string
	c := &cobra.Command{
		Use:   "responsibilities",
		Short: "one edition as text, another as witness: whose each digit is, by work",
		Long: `responsibilities takes, for every pair of editions of a work, the first as text (its digits the composer's) and the second as
witness (an earlier hand's). It counts digits that both have alike, on which they differ, that only the text has and that
only the witness has, and looks whether each is told to be whose it is: against the two files read independently of the
alignment wherever measure, onset and key agree, and against a witness made from the text by taking digits out, changing
and adding some, and numbering all in the old way, of which the truth is known for every digit.

EXIT STATUS
  0  every responsibility is right
  1  some are wrong
  2  the work could not be done`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			pairs, err := witnessPairs(filepath.Join(shared, "data", "witnesses"))
			if err != nil {
				return err
			}
			out := cmd.OutOrStdout()
			var sum digitTally
			fmt.Fprintln(out, "work      text                witness              alike differ text-only witness-only unplaced | looked up, wrong | made, wrong")
			for _, p := range pairs {
				a, err := opendata.ReadScore(p.fileA)
				if err != nil {
					return err
				}
				b, err := opendata.ReadScore(p.fileB)
				if err != nil {
					return err
				}
				t := tallyDigits(a, b, p.b)
				t.made, t.madeWrong = madeWitness(a)
				fmt.Fprintf(out, "%-9s %-19s %-19s %6d %6d %9d %12d %8d | %9d %5d | %4d %5d\n", p.work, p.a, p.b, t.alike, t.differ, t.textOnly, t.witnessOnly, t.unplaced, t.looked, t.wrong, t.made, t.madeWrong)
				sum.add(t)
			}
			fmt.Fprintf(out, "all: alike %d, differ %d, text only %d, witness only %d, unplaced %d; looked up %d, wrong %d; made %d, wrong %d\n",
				sum.alike, sum.differ, sum.textOnly, sum.witnessOnly, sum.unplaced, sum.looked, sum.wrong, sum.made, sum.madeWrong)
			if sum.wrong+sum.madeWrong > 0 {
				return fmt.Errorf("%d responsibilities are wrong", sum.wrong+sum.madeWrong)
			}
			return nil
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	return c
}

type digitTally struct {
	alike, differ, textOnly, witnessOnly, unplaced, looked, wrong, made, madeWrong int
}

func (t *digitTally) add(o digitTally) {
	t.alike, t.differ, t.textOnly, t.witnessOnly, t.unplaced = t.alike+o.alike, t.differ+o.differ, t.textOnly+o.textOnly, t.witnessOnly+o.witnessOnly, t.unplaced+o.unplaced
	t.looked, t.wrong, t.made, t.madeWrong = t.looked+o.looked, t.wrong+o.wrong, t.made+o.made, t.madeWrong+o.madeWrong
}

func tallyDigits(a, b *score.Score, siglum string) (t digitTally) {
	src := attribute.Compare(a, []witnesses.Witness{{Siglum: siglum, Responsibility: score.Earlier, Score: b}})
	t.unplaced = src.Unplaced[0]
	at := uniquePlaces(b)
	mine := uniquePlaces(a)
	for i := range a.Notes {
		text, readings := a.Notes[i].Indications, src.Readings[i]
		same := slices.ContainsFunc(src.Sigla[i], func(s []string) bool { return len(s) > 0 })
		switch {
		case len(text) > 0 && same:
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
		if !found || mine[key] != i || !sameKeys(a, b, a.Notes[i].Measure) || len(text)+len(b.Notes[j].Indications) == 0 {
			continue
		}
		t.looked++
		alike := false
		for _, x := range text {
			for _, y := range b.Notes[j].Indications {
				alike = alike || len(x.Fingers) > 0 && slices.Equal(x.Fingers, y.Fingers)
			}
		}
		if alike != same || len(readings) != len(b.Notes[j].Indications) {
			t.wrong++
		}
	}
	return t
}

type placeKey struct {
	measure int
	onset   score.Fraction
	midi    int
	grace   int
}

func placeOf(s *score.Score, i int) placeKey {
	n := &s.Notes[i]
	return placeKey{n.Measure, n.Onset, n.Midi, n.Grace}
}

// uniquePlaces finds the notes that are alone at their place and key.
func uniquePlaces(s *score.Score) map[placeKey]int {
	out := map[placeKey]int{}
	for i := range s.Notes {
		if s.Notes[i].Kind != score.Pitched {
			continue
		}
		k := placeOf(s, i)
		if _, twice := out[k]; twice {
			out[k] = -1
			continue
		}
		out[k] = i
	}
	for k, i := range out {
		if i < 0 {
			delete(out, k)
		}
	}
	return out
}

// sameMeasure reports whether a measure of the same number holds the same keys at the same moments in both, and so do its neighbours.
func sameKeys(a, b *score.Score, m int) bool {
	return slices.Equal(keysOf(a, m), keysOf(b, m)) && slices.Equal(keysOf(a, m-1), keysOf(b, m-1)) && slices.Equal(keysOf(a, m+1), keysOf(b, m+1))
}

var keysCache = map[*score.Score][][]string{}

func keysOf(s *score.Score, m int) []string {
	all, known := keysCache[s]
	if !known {
		all = make([][]string, len(s.Measures))
		for i := range s.Notes {
			if n := &s.Notes[i]; n.Kind == score.Pitched {
				all[n.Measure] = append(all[n.Measure], fmt.Sprint(n.Onset, n.Midi, n.Grace, n.TiedFrom >= 0))
			}
		}
		for k := range all {
			slices.Sort(all[k])
		}
		keysCache[s] = all
	}
	if m < 0 || m >= len(all) {
		return nil
	}
	return all[m]
}

// madeWitness makes a witness in old numbering of which the truth is known, and looks at every digit.
func madeWitness(a *score.Score) (looked, wrong int) {
	b := *a
	b.Notes = slices.Clone(a.Notes)
	truth := make([]int, len(a.Notes)) // the finger in the witness, 0 for none
	for i := range b.Notes {
		n := &b.Notes[i]
		had := 0
		if len(n.Indications) == 1 {
			had = n.Indications[0].Finger()
		}
		n.Indications = nil
		if n.Kind != score.Pitched || n.TiedFrom >= 0 || n.Cue || n.Hidden {
			continue
		}
		switch {
		case had > 0 && i%3 == 0: // taken out
		case had > 0 && i%3 == 1: // changed
			truth[i] = had%5 + 1
		case had > 0:
			truth[i] = had
		case i%11 == 0: // added
			truth[i] = i%5 + 1
		}
		if f := truth[i]; f > 0 {
			text := "+"
			if f > 1 {
				text = strconv.Itoa(f - 1)
			}
			n.Indications = []score.Indication{{Text: text}}
		}
	}
	src := attribute.Compare(a, []witnesses.Witness{{Siglum: "W", Old: true, Responsibility: score.Earlier, Score: &b}})
	for i := range a.Notes {
		text := a.Notes[i].Indications
		if len(text) > 1 || len(text)+truth[i] == 0 || len(text) == 1 && text[0].Finger() == 0 {
			continue
		}
		looked++
		var readings []int
		for _, r := range src.Readings[i] {
			readings = append(readings, r.Fingers...)
		}
		right := truth[i] == 0 && len(readings) == 0 || len(readings) == 1 && readings[0] == truth[i]
		if len(text) == 1 {
			right = right && (len(src.Sigla[i][0]) == 1) == (truth[i] == text[0].Finger())
		} else if truth[i] > 0 {
			credit := credit.Of(truth[i], src.Readings[i])
			right = right && credit.Who == score.Earlier && slices.Equal(credit.Sigla, []string{"W"})
		}
		if !right {
			wrong++
		}
	}
	return looked, wrong
}
