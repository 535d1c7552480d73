package review

import (
	"cmp"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/parallel"
)

// Going is a stretch of measures to which the answer to a passage goes, since its music comes again there: whoever answers is
// told so, and however they answer, on the page, by the number on a sheet or by the place, it holds there.
type Going struct {
	First, Last int // measures, by index
	Kind        parallel.Kind
	Notes       [][2]int // a note of the passage, and the one that brings it back
	// Beside are digits of the text beside notes there: the note there, the note here that stands for the one with the digit, and the
	// digit. Where that note gets another finger here, nothing goes to the first.
	Beside [][3]int
}

// goesOf lists where the answer to a passage goes: to notes that bring back one of its own and that nobody has decided. open
// are the notes whose printed digit is open.
func goesOf(at state.ByNumber, p *Passage, returns returning, kinds []parallel.Return, open []bool) (out []Going) {
	if !p.ForReturns || p.ReturnOf > 0 || p.Redistribution >= 0 {
		return nil
	}
	inside := make(map[int]bool, len(p.Notes))
	for _, n := range p.Notes {
		inside[n] = true
	}
	type pair struct {
		here, there int
		kind        parallel.Kind
		beside      [][3]int
	}
	var pairs []pair
	for _, n := range p.Notes {
		if !taken(at.Of(n), p) {
			continue
		}
		for _, x := range returns[n] {
			there := at.Of(x.there)
			if there == nil || inside[x.there] || standsThere(there) || there.Tied || there.Confidence == nil && !open[x.there] ||
				!x.holds(at, n, func(n int) bool { return inside[n] }) {
				continue
			}
			pairs = append(pairs, pair{n, x.there, kinds[x.of].Kind, x.textBeside(at)})
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int {
		x, y := at.Of(a.there), at.Of(b.there)
		return cmp.Or(cmp.Compare(x.Hand, y.Hand), cmp.Compare(x.MeasureIndex, y.MeasureIndex), cmp.Compare(a.there, b.there), cmp.Compare(a.here, b.here))
	})
	met := map[int]bool{}
	for _, q := range pairs {
		if met[q.there] {
			continue
		}
		met[q.there] = true
		m := at.Of(q.there).MeasureIndex
		if last := len(out) - 1; last >= 0 && out[last].Kind == q.kind && m <= out[last].Last+1 && out[last].First <= m {
			out[last].Last, out[last].Notes = m, append(out[last].Notes, [2]int{q.here, q.there})
			out[last].Beside = append(out[last].Beside, q.beside...)
			continue
		}
		out = append(out, Going{m, m, q.kind, [][2]int{{q.here, q.there}}, q.beside})
	}
	return out
}

// Moved are the pairs of a note and the one that brings it back of which the second is suggested otherwise: to decide the first changes it.
func Moved(at state.ByNumber, pairs [][2]int) (out [][2]int) {
	for _, pair := range pairs {
		here, there := at.Of(pair[0]), at.Of(pair[1])
		if here != nil && there != nil && (here.Finger != there.Finger || !slices.Equal(here.Substitution, there.Substitution)) {
			out = append(out, pair)
		}
	}
	return out
}

// MeasureList names measures, by index and in their order, those that follow each other as a stretch.
func MeasureList(s *score.Score, measures []int) string {
	var out []string
	for k := 0; k < len(measures); {
		last := k
		for last+1 < len(measures) && measures[last+1] == measures[last]+1 {
			last++
		}
		stretch := s.Measures[measures[k]].Number
		if last > k {
			stretch += "–" + s.Measures[measures[last]].Number
		}
		out, k = append(out, stretch), last+1
	}
	if len(out) == 1 && !strings.Contains(out[0], "–") {
		return "m. " + out[0]
	}
	return "mm. " + strings.Join(out, ", ")
}
