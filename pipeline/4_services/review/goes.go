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
	// Yields are those of the notes there to which another passage brings another digit that comes first, once it is decided: each the
	// note there and the number of that passage.
	Yields [][2]int
}

// orderOf is the place of a pair of notes in the order in which stage 10_bind carries digits: of several that come to one note the
// first stays.
type orderOf struct{ of, k, side int }

func (x *again) order() orderOf { return orderOf{x.of, x.k, x.side} }

func (a orderOf) compare(b orderOf) int {
	return cmp.Or(cmp.Compare(a.of, b.of), cmp.Compare(a.k, b.k), cmp.Compare(a.side, b.side))
}

// goesOf lists where the answer to a passage goes: to notes that bring back one of its own and that nobody has decided. open
// are the notes whose printed digit is open.
// order is that of each pair.
func goesOf(at state.ByNumber, p *Passage, returns returning, kinds []parallel.Return, open []bool) (out []Going, order map[[2]int]orderOf) {
	order = map[[2]int]orderOf{}
	if !p.ForReturns || p.ReturnOf > 0 || p.Redistribution >= 0 {
		return nil, order
	}
	inside := make(map[int]bool, len(p.Notes))
	for _, n := range p.Notes {
		inside[n] = true
	}
	type pair struct {
		here, there int
		kind        parallel.Kind
		beside      [][3]int
		order       orderOf
	}
	var pairs []pair
	for _, n := range p.Notes {
		if !taken(at.Of(n), p) {
			continue
		}
		for _, x := range returns[n] {
			there := at.Of(x.there)
			if there == nil || inside[x.there] || standsThere(there) || there.Tied ||
				there.Confidence == nil && !open[x.there] && !takesOver(at, n, &x, returns) ||
				!x.holds(at, n, func(n int) bool { return inside[n] }) {
				continue
			}
			pairs = append(pairs, pair{n, x.there, kinds[x.of].Kind, x.textBeside(at), x.order()})
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int {
		x, y := at.Of(a.there), at.Of(b.there)
		return cmp.Or(cmp.Compare(x.Hand, y.Hand), cmp.Compare(x.MeasureIndex, y.MeasureIndex), cmp.Compare(a.there, b.there), a.order.compare(b.order))
	})
	met := map[int]bool{}
	for _, q := range pairs {
		if met[q.there] {
			continue
		}
		met[q.there] = true
		order[[2]int{q.here, q.there}] = q.order
		m := at.Of(q.there).MeasureIndex
		if last := len(out) - 1; last >= 0 && out[last].Kind == q.kind && m <= out[last].Last+1 && out[last].First <= m {
			out[last].Last, out[last].Notes = m, append(out[last].Notes, [2]int{q.here, q.there})
			out[last].Beside = append(out[last].Beside, q.beside...)
			continue
		}
		out = append(out, Going{m, m, q.kind, [][2]int{{q.here, q.there}}, q.beside, nil})
	}
	return out, order
}

// takesOver says of a note whose digit came from elsewhere that the one decided here is another and comes first.
func takesOver(at state.ByNumber, here int, x *again, returns returning) bool {
	there := at.Of(x.there)
	if !there.Carried || len(Moved(at, [][2]int{{here, x.there}})) == 0 {
		return false
	}
	for _, y := range returns[x.there] { // those that it brings back, or that bring it back
		from := at.Of(y.there)
		if from == nil || from.Confidence != nil || from.Carried || standsThere(from) || from.Finger != there.Finger {
			continue
		}
		if source := (orderOf{y.of, y.k, 1 - y.side}); source.compare(x.order()) < 0 {
			return false
		}
	}
	return true
}

// yield says, of notes to which several passages bring a digit, which of them comes first once it is decided.
func yield(at state.ByNumber, passages []Passage, orders []map[[2]int]orderOf) {
	type claim struct{ passage, here int }
	first := map[int]claim{}
	each := func(do func(p int, g *Going, pair [2]int)) {
		for p := range passages {
			for i := range passages[p].Goes {
				for _, pair := range passages[p].Goes[i].Notes {
					do(p, &passages[p].Goes[i], pair)
				}
			}
		}
	}
	each(func(p int, _ *Going, pair [2]int) {
		was, known := first[pair[1]]
		if !known || orders[p][pair].compare(orders[was.passage][[2]int{was.here, pair[1]}]) < 0 {
			first[pair[1]] = claim{p, pair[0]}
		}
	})
	each(func(p int, g *Going, pair [2]int) {
		if of := first[pair[1]]; of.passage != p && len(Moved(at, [][2]int{{pair[0], of.here}})) > 0 {
			g.Yields = append(g.Yields, [2]int{pair[1], passages[of.passage].Number})
		}
	})
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
