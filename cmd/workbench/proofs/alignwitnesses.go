package proofs

import (
	"context"
	"fmt"
	"io"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fingerproof/cmd/workbench/measurement"
	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus/align"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_services/compare"
)

// aligning aligns every pair of witnesses of one work and counts how many notes found their counterpart.
type aligning struct {
	shared, only   string
	list, variants bool
}

func alignWitnessesCommand() *cobra.Command {
	m := &aligning{}
	return measurement.Measurement{
		Use:   "align-witnesses",
		Short: "align every pair of witnesses of a work: share of notes covered, what is not",
		Long: `align-witnesses aligns every pair of witnesses of a work and counts the struck notes of both, the
share that found its counterpart, the notes of either that did not, and the pairs that differ, by
kind. Overlooked are notes alone on one side that have their equal alone on the other within a
quarter: what a better alignment might still have paired.`,
		Flags: func(f *pflag.FlagSet) {
			opendata.FolderFlag(f, &m.shared)
			f.StringVar(&m.only, "work", "", "only this work")
			f.BoolVar(&m.variants, "variants", false, "count the variants of text and digits; with --list, list them")
			f.BoolVar(&m.list, "list", false, "list the notes without counterpart, measure by measure")
		},
		Run: m.run,
	}.Command()
}

func (m *aligning) run(_ context.Context, out io.Writer, _ []string) error {
	pairs, err := witnessPairs(opendata.Place(m.shared, "witnesses"))
	if err != nil {
		return err
	}
	fmt.Fprintln(out, "work      a                   b                    notes covered unpaired kinds")
	for _, p := range pairs {
		if m.only != "" && p.work != m.only {
			continue
		}
		a, b, err := p.read()
		if err != nil {
			return err
		}
		start := time.Now()
		al := align.Align(a, b, align.Options{})
		took := time.Since(start)
		t := tallyOf(al)
		fmt.Fprintf(out, "%-9s %-19s %-19s %6d %.5f %3d+%-3d", p.work, p.a, p.b,
			t.notes, float64(al.Coverage())/1e5, t.aloneA, t.aloneB)
		fmt.Fprintf(out, " octave %d pitch %d spelling %d onset %d duration %d tie %d grace %d",
			t.kinds[1], t.kinds[2], t.kinds[0], t.kinds[3], t.kinds[4], t.kinds[5], t.kinds[6])
		fmt.Fprintf(out, " measures %d+%d overlooked %d  %d ms\n",
			t.missing, t.inserted, overlooked(al), took.Milliseconds())
		if m.list {
			listAlone(out, al)
		}
		if !m.variants {
			continue
		}
		piece := compare.Aligned(p.work, compare.Side{Score: a}, compare.Side{Score: b}, al)
		fmt.Fprintf(out, "    %d variants:%s\n", len(piece.Changes), countsOf(piece.Counts()))
		if m.list {
			listChanges(out, &piece)
		}
	}
	return nil
}

// alignmentTally counts an alignment: struck notes of both sides, those without counterpart, measures that one side
// lacks, and the notes that differ by kind (bits of align.Kinds).
type alignmentTally struct {
	notes, aloneA, aloneB, missing, inserted int
	kinds                                    [9]int
}

func tallyOf(al *align.Alignment) alignmentTally {
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

// listAlone lists the notes without counterpart.
func listAlone(out io.Writer, al *align.Alignment) {
	list := func(side string, s *score.Score, in []bool, to, cover []int) {
		for i := range s.Notes {
			n := &s.Notes[i]
			if in[i] && n.Struck() && to[i] < 0 && cover[i] < 0 {
				fmt.Fprintf(out, "    only in %s: %s %s dur %s grace %d line %d\n",
					side, s.Place(i), n.Pitch, n.Duration, n.Grace, n.Line)
			}
		}
	}
	list("a", al.A, al.InA, al.ToB, al.CoverB)
	list("b", al.B, al.InB, al.ToA, al.CoverA)
}
