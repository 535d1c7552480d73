package review

import (
	"slices"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/parallel"
)

// apartFromReturns divides passages of doubts where measures bring back others that are asked before, with the same digits:
// those are judged with the first (linkReturns), and what is new beside them is asked by itself. The passages of a line are in
// the order of the music; so is what comes out.
func apartFromReturns(at state.ByNumber, passages []Passage, lines []line, returns []parallel.Return) []Passage {
	type pair struct {
		note     int
		mirrored bool
	}
	brings := map[int][]pair{} // by note, those that it brings back
	for i := range returns {
		r := &returns[i]
		for k := range min(len(r.First), len(r.Later)) {
			brings[r.Later[k]] = append(brings[r.Later[k]], pair{r.First[k], r.Kind == parallel.Mirrored})
		}
	}
	if len(brings) == 0 {
		return passages
	}
	inOrder := make([]int, len(passages))
	for i := range inOrder {
		inOrder[i] = i
	}
	slices.SortStableFunc(inOrder, func(a, b int) int { return passages[a].First - passages[b].First })
	asked := map[int]int{} // by note, the part with which it is decided
	parts := 0
	divided := make([][]Passage, len(passages))
	for _, i := range inOrder {
		q := &passages[i]
		answers := func(n int) (in map[int]bool) { // the parts that answer a doubt
			in = map[int]bool{}
			later := at.Of(n)
			for _, b := range brings[n] {
				first := at.Of(b.note)
				part, known := asked[b.note]
				if known && first.MeasureIndex < q.First && first.Finger == later.Finger && slices.Equal(first.Substitution, later.Substitution) &&
					(first.Hand == later.Hand) != b.mirrored && !standsThere(first) && !standsThere(later) {
					in[part] = true
				}
			}
			return in
		}
		type run struct {
			first, last int
			by          map[int]bool // the parts that answer all of it; none where it is asked
			doubts      []int
		}
		var runs []run
		for k := 0; k < len(q.Doubts); {
			m := at.Of(q.Doubts[k]).MeasureIndex
			one := run{first: m, last: m, by: answers(q.Doubts[k])}
			for ; k < len(q.Doubts) && at.Of(q.Doubts[k]).MeasureIndex == m; k++ {
				one.by = both(one.by, answers(q.Doubts[k]))
				one.doubts = append(one.doubts, q.Doubts[k])
			}
			if last := len(runs) - 1; last >= 0 {
				shared := both(runs[last].by, one.by)
				if len(shared) > 0 || len(runs[last].by)+len(one.by) == 0 {
					runs[last].last, runs[last].by, runs[last].doubts = m, shared, append(runs[last].doubts, one.doubts...)
					continue
				}
			}
			runs = append(runs, one)
		}
		for _, r := range runs {
			part := *q
			if len(runs) > 1 {
				part = stretch(lineFor(lines, q.Hand, q.Part), r.first, r.last)
				part.Doubts, part.Weight = r.doubts, weightOf(at, r.doubts)
			}
			parts++
			if len(r.by) == 0 {
				for _, n := range part.Notes { // it decides what is sure, too
					if at.Of(n).Confidence != nil {
						asked[n] = parts
					}
				}
			}
			divided[i] = append(divided[i], part)
		}
	}
	return slices.Concat(divided...)
}

// both is what two sets have in common.
func both(a, b map[int]bool) map[int]bool {
	out := map[int]bool{}
	for n := range a {
		if b[n] {
			out[n] = true
		}
	}
	return out
}
