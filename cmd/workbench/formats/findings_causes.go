package formats

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/rules/lint"
)

// foundIn gives the findings of a piece with another reading of its score.
func foundIn(w *pipeline.PieceRun, s *score.Score) ([]lint.Finding, error) {
	other, err := workedOut(w, s, "stet")
	if err != nil {
		return nil, err
	}
	return other.Remaining, nil
}

// keyOf is what two findings have in common that are one; note says which note of the MEI one is.
func keyOf(f *lint.Finding, note func(int) int) string {
	notes := make([]int, len(f.Notes))
	for k, n := range f.Notes {
		notes[k] = note(n)
	}
	slices.Sort(notes)
	return fmt.Sprint(f.Rule, "|", f.Severity, f.Message, f.Measure, f.Onset, notes)
}

// inOneAlone counts findings that one list alone has: how many more the first has of each, or less.
func inOneAlone(a []lint.Finding, to func(int) int, b []lint.Finding) map[string]int {
	seen := map[string]int{}
	for i := range a {
		seen[keyOf(&a[i], to)]++
	}
	for i := range b {
		seen[keyOf(&b[i], same)]--
	}
	maps.DeleteFunc(seen, func(_ string, n int) bool { return n == 0 })
	return seen
}

// explainFindings says through what a finding stands in one format alone: all losses are taken out of the MusicXML's
// reading, the piece is linted again, and what is still in one alone is left; then each kind is given back, and what comes
// up or goes by it is laid to it.
func (c *comparison) explainFindings(a, b *pipeline.PieceRun, to []int, differ map[string]int) error {
	r := newReadings(a.Score, b.Score, to)
	r.forwards = forwardsOf(a.Data)
	all := append(r.losses(), r.pageLosses()...)
	unlike := func(losses []loss) (map[string]int, error) {
		s, now := r.with(losses)
		in := make([]int, len(s.Notes)) // which note of the MEI a note is
		for i, n := range now {
			if n >= 0 {
				in[n] = to[i]
			}
		}
		found, err := foundIn(a, s)
		return inOneAlone(found, func(n int) int { return in[n] }, b.Remaining), err
	}
	left, err := unlike(all)
	if err != nil {
		return err
	}
	measures := map[string]int{} // by the key of a finding
	for i := range a.Remaining {
		measures[keyOf(&a.Remaining[i], func(n int) int { return to[n] })] = a.Remaining[i].Measure
	}
	for i := range b.Remaining {
		measures[keyOf(&b.Remaining[i], same)] = b.Remaining[i].Measure
	}
	causes := map[string][]string{} // by the key of a finding
	for _, kind := range kindsOf(all) {
		back, err := unlike(slices.DeleteFunc(slices.Clone(all), func(l loss) bool { return l.kind == kind }))
		if err != nil {
			return err
		}
		for key := range back {
			if _, is := left[key]; !is {
				causes[key] = append(causes[key], r.causeOf(kind, all, measures[key]))
			}
		}
	}
	if err := r.inPairs(all, differ, left, causes, unlike); err != nil {
		return err
	}
	for key, n := range differ { // counts add up in any order
		n = max(n, -n)
		rule, _, _ := strings.Cut(key, "|")
		why := "several of these together"
		if _, is := left[key]; is {
			why = unexplained
		} else if len(causes[key]) > 0 {
			why = strings.Join(causes[key], "; with: ")
		}
		if strings.Contains(why, unexplained) {
			c.unsaid += n
		}
		c.whyFound[rule+": "+why] += n
		if c.list || strings.Contains(why, unexplained) {
			c.lines = append(c.lines, fmt.Sprintf("%s: %s [%s]", a.Piece.ID, key, why))
		}
	}
	return nil
}

// inPairs finds two kinds of losses each for findings that none brings up or takes away alone.
func (r *readings) inPairs(
	all []loss, differ, left map[string]int, causes map[string][]string, unlike func([]loss) (map[string]int, error),
) error {
	kinds := kindsOf(all)
	for k, p := range kinds {
		for _, q := range kinds[k+1:] {
			open := false
			for key := range differ {
				_, not := left[key]
				open = open || !not && len(causes[key]) == 0
			}
			if !open {
				return nil
			}
			back, err := unlike(slices.DeleteFunc(slices.Clone(all), func(l loss) bool { return l.kind == p || l.kind == q }))
			if err != nil {
				return err
			}
			for key := range differ {
				if _, is := back[key]; is && len(causes[key]) == 0 {
					causes[key] = []string{becomes(p) + ", or " + becomes(q)}
				}
			}
		}
	}
	return nil
}

// forwardsOf says in which measures a part of a partwise MusicXML has a step in time.
func forwardsOf(musicxml []byte) map[int]bool {
	out := map[int]bool{}
	for _, part := range strings.Split(string(musicxml), "<part ")[1:] {
		for i, measure := range strings.Split(part, "<measure ")[1:] {
			out[i] = out[i] || strings.Contains(measure, "<forward>")
		}
	}
	return out
}

// causeOf names a kind of loss; what a reader reports is named by the loss from which it follows, in that measure, or
// in those with which it is told.
func (r *readings) causeOf(kind string, all []loss, measure int) string {
	if !strings.HasPrefix(kind, oddKind) {
		return becomes(kind)
	}
	if why := r.reasonOf(loss{kind, measure}, all); why != "" {
		return becomes(why)
	}
	for _, l := range all { // findings of several measures are told as one
		if l.kind == kind && l.measure != measure {
			if why := r.reasonOf(l, all); why != "" {
				return becomes(why)
			}
		}
	}
	return kind + " " + unexplained
}
