package proofs

import (
	"fmt"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"
)

// alignWitnessesCommand aligns every pair of witnesses of one work and tells
// how many notes found their counterpart.
func alignWitnessesCommand() *cobra.Command {
	var shared, only string
	var list, variants bool
	c := &cobra.Command{
		Use:   "align-witnesses",
		Short: "align every pair of witnesses of a work: share of notes covered, what is not",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			pairs, err := witnessPairs(filepath.Join(shared, "data", "witnesses"))
			if err != nil {
				return err
			}
			out := cmd.OutOrStdout()
			fmt.Fprintln(out, "work      a                   b                    notes covered unpaired kinds")
			for _, p := range pairs {
				if only != "" && p.work != only {
					continue
				}
				a, err := opendata.ReadScore(p.fileA)
				if err != nil {
					return err
				}
				b, err := opendata.ReadScore(p.fileB)
				if err != nil {
					return err
				}
				start := time.Now()
				al := align.Align(a, b, align.Options{})
				took := time.Since(start)
				t := tellAlignment(al)
				fmt.Fprintf(out, "%-9s %-19s %-19s %6d %.5f %3d+%-3d octave %d pitch %d spelling %d onset %d duration %d tie %d grace %d measures %d+%d overlooked %d  %d ms\n",
					p.work, p.a, p.b, t.notes, float64(al.Coverage())/1e5, t.aloneA, t.aloneB, t.kinds[1], t.kinds[2], t.kinds[0], t.kinds[3], t.kinds[4], t.kinds[5], t.kinds[6], t.missing, t.inserted, overlooked(al), took.Milliseconds())
				if list {
					listAlone(cmd, al)
				}
				if variants {
					piece := compare.Aligned(p.work, compare.Side{Score: a}, compare.Side{Score: b}, al)
					fmt.Fprintf(out, "    %d variants:", len(piece.Changes))
					counts := piece.Counts()
					for _, k := range compare.Kinds() {
						if counts[k] > 0 {
							fmt.Fprintf(out, " %s %d", k, counts[k])
						}
					}
					fmt.Fprintln(out)
					if list {
						listChanges(cmd, &piece)
					}
				}
			}
			return nil
		},
	}
	c.Flags().StringVar(&shared, "shared", opendata.Folder(), "folder of shared material")
	c.Flags().StringVar(&only, "work", "", "only this work")
	c.Flags().BoolVar(&variants, "variants", false, "count the variants of text and digits; with --list, list them")
	c.Flags().BoolVar(&list, "list", false, "list the notes without counterpart, measure by measure")
	return c
}

type witnessPair struct{ work, a, b, fileA, fileB string }

func witnessPairs(dir string) ([]witnessPair, error) {
	rows, err := opendata.ReadTable(filepath.Join(dir, "INDEX.tsv"))
	if err != nil {
		return nil, err
	}
	var out []witnessPair
	for i, r := range rows {
		for _, q := range rows[i+1:] {
			if q["work"] == r["work"] {
				out = append(out, witnessPair{r["work"], r["witness"], q["witness"], filepath.Join(dir, r["file"]), filepath.Join(dir, q["file"])})
			}
		}
	}
	return out, nil
}

type alignmentTally struct {
	notes, aloneA, aloneB, missing, inserted int
	kinds                                    [9]int
}

func tellAlignment(al *align.Alignment) alignmentTally {
	var t alignmentTally
	for i := range al.A.Notes {
		if !al.InA[i] || !al.A.Notes[i].Struck() {
			continue
		}
		t.notes++
		if al.ToB[i] < 0 && al.CoverB[i] < 0 {
			t.aloneA++
		}
		for k := range t.kinds {
			if al.Kinds[i].Has(1 << k) {
				t.kinds[k]++
			}
		}
	}
	for j := range al.B.Notes {
		if al.InB[j] && al.B.Notes[j].Struck() {
			t.notes++
			if al.ToA[j] < 0 && al.CoverA[j] < 0 {
				t.aloneB++
			}
		}
	}
	for _, s := range al.Spans {
		if s.B.Len() == 0 {
			t.missing += s.A.Len()
		}
		if s.A.Len() == 0 {
			t.inserted += s.B.Len()
		}
	}
	return t
}

// overlooked counts notes without counterpart in A that have the same key, also
// without counterpart, within a quarter in B: what a better alignment might
// still have paired. The rest is music that only one witness has.
func overlooked(al *align.Alignment) int {
	type key struct {
		midi, span int
	}
	alone := map[key][]score.Fraction{}
	for j := range al.B.Notes {
		if n := &al.B.Notes[j]; al.InB[j] && n.Struck() && al.ToA[j] < 0 && al.CoverA[j] < 0 {
			k := key{n.Midi, al.SpanOfB[n.Measure]}
			alone[k] = append(alone[k], al.B.At(j))
		}
	}
	count := 0
	for i := range al.A.Notes {
		n := &al.A.Notes[i]
		if !al.InA[i] || !n.Struck() || al.ToB[i] >= 0 || al.CoverB[i] >= 0 {
			continue
		}
		m, onset, ok := al.MomentToB(n.Measure, n.Onset)
		if !ok {
			continue
		}
		at := al.B.Measures[m].Start.Add(onset)
		found := false
		for span := al.SpanOfA[n.Measure] - 1; span <= al.SpanOfA[n.Measure]+1; span++ {
			for _, t := range alone[key{n.Midi, span}] {
				d := t.Sub(at)
				found = found || d.Cmp(score.Whole(-1)) >= 0 && d.Cmp(score.Whole(1)) <= 0
			}
		}
		if found {
			count++
		}
	}
	return count
}

func listAlone(cmd *cobra.Command, al *align.Alignment) {
	tell := func(side string, s *score.Score, in []bool, to, cover []int) {
		for i := range s.Notes {
			n := &s.Notes[i]
			if in[i] && n.Struck() && to[i] < 0 && cover[i] < 0 {
				fmt.Fprintf(cmd.OutOrStdout(), "    only in %s: %s %s dur %s grace %d line %d\n", side, s.Place(i), n.Pitch, n.Duration, n.Grace, n.Line)
			}
		}
	}
	tell("a", al.A, al.InA, al.ToB, al.CoverB)
	tell("b", al.B, al.InB, al.ToA, al.CoverA)
}
