package mei

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// An <expansion> names the parts of its section in the order in which they are played (MEI Guidelines 5.1, "Expansion").
// Music is read in the order in which it is written: where the two differ by more than signs of repetition and jumps say
// on the page, that is noted.

// expansion is one, with the measures of the section in which it stands.
type expansion struct {
	e        *xmltree.Element
	from, to int
}

// mostPlayed bounds how often, on average, a measure is played.
const mostPlayed = 64

// orders holds the order of playing that each section is given against what stands on its page. Of several for one section
// each is a choice, and one that the page says is enough.
func (r *reader) orders(s *score.Score) {
	jumps := jumpsOf(s)
	for i := 0; i < len(r.expansions); {
		x := r.expansions[i]
		var first *oddity
		agreed := false
		for ; i < len(r.expansions) && r.expansions[i].from == x.from && r.expansions[i].to == x.to; i++ {
			o := r.order(s, r.expansions[i], jumps)
			agreed = agreed || o == nil
			if first == nil {
				first = o
			}
		}
		if !agreed && len(r.odd) < mostOddities {
			r.odd = append(r.odd, *first)
		}
	}
}

// order is what is odd about an order of playing; nil where the page says the same.
func (r *reader) order(s *score.Score, x expansion, jumps []bool) *oddity {
	if x.from >= x.to || x.to > len(s.Measures) {
		return nil
	}
	odd := func(at int, format string, args ...any) *oddity {
		return &oddity{score.OddOrder, nil, at, x.e, fmt.Sprintf(format, args...) + ". The music is read, fingered and printed in the " +
			"order in which it is written, each measure once"}
	}
	measures := s.Measures[x.from:x.to]
	var want []int
	for _, id := range strings.Fields(x.e.Attribute("plist")) {
		from, to, known := r.measuresOf(strings.TrimPrefix(id, "#"))
		if !known {
			return odd(x.from, "an order of playing (<expansion>) names %.40q, which is no part of the music", id)
		}
		for k := max(from, x.from); k < min(to, x.to) && len(want) < mostPlayed*len(measures); k++ {
			want = append(want, k-x.from)
		}
	}
	if len(want) == 0 {
		return nil
	}
	most := mostPlayed * len(measures)
	here := score.OrderOfRepeats(measures, false, most)
	if slices.Equal(here, want) || slices.Equal(score.OrderOfRepeats(measures, true, most), want) {
		return nil
	}
	k := 0
	for k < len(here) && k < len(want) && here[k] == want[k] {
		k++
	}
	goes := func(order []int) string {
		if k >= len(order) {
			return "end"
		}
		return "go on with m. " + measures[order[k]].Number
	}
	if slices.Contains(jumps[x.from:x.to], true) && want[0] == 0 {
		if k = unsigned(measures, want, jumps[x.from:x.to]); k == 0 {
			return nil
		}
		return odd(x.from+want[k-1], "an order of playing (<expansion>) lets the music %s after m. %s, and no sign on the page leads there",
			goes(want), measures[want[k-1]].Number)
	}
	there, signs := goes(want), goes(here)
	if len(here) == 0 { // a second ending alone
		return odd(x.from+want[0], "an order of playing (<expansion>) begins with m. %s, and the signs on the page let nothing of "+
			"its section be played", measures[want[0]].Number)
	}
	if k == 0 {
		return odd(x.from+want[0], "an order of playing (<expansion>) begins with m. %s, the page with m. %s",
			measures[want[0]].Number, measures[here[0]].Number)
	}
	return odd(x.from+want[k-1], "an order of playing (<expansion>) lets the music %s after m. %s, where the signs on the page let it %s",
		there, measures[want[k-1]].Number, signs)
}

// unsigned is the place in an order of the first measure to which no sign on the page leads, 0 where there is none: it
// does not follow on the one before it, and no sign of a repetition, of an ending or of a jump stands where the order goes
// away or where it arrives. Which jump leads where is not looked at.
func unsigned(measures []score.Measure, order []int, jumps []bool) int {
	signed := func(i int) bool {
		m := &measures[i]
		return jumps[i] || m.Repeat.Backward || len(m.Endings) > 0 || i+1 < len(measures) && len(measures[i+1].Endings) > 0
	}
	for k, i := range order {
		next, to := i+1, len(measures) // where it would go on, and where it goes on
		if k+1 < len(order) {
			to = order[k+1]
		}
		if to != next && !signed(i) && (to == len(measures) || !jumps[to]) && (next == len(measures) || !jumps[next]) {
			return k + 1
		}
	}
	return 0
}

// jumpsOf says of each measure whether a sign or a word of a jump stands in it.
func jumpsOf(s *score.Score) []bool {
	out := make([]bool, len(s.Measures))
	for i := range s.Items {
		item := &s.Items[i]
		text := strings.ToLower(item.Reading)
		letters := strings.Map(func(c rune) rune {
			if c < 'a' || c > 'z' {
				return -1
			}
			return c
		}, text)
		jump := item.Kind == score.ItemJump || strings.HasPrefix(letters, "dc") || strings.HasPrefix(letters, "ds")
		for _, word := range []string{"capo", "segno", "coda", "fine"} {
			jump = jump || strings.Contains(letters, word)
		}
		switch item.Kind {
		case score.ItemJump, score.ItemWords, score.ItemTempo, score.ItemRehearsal, score.ItemDirection:
			out[item.Measure] = out[item.Measure] || jump
		}
	}
	return out
}

// measuresOf are the measures of what an id names: those that are written there, not their copies in another section.
func (r *reader) measuresOf(id string) (from, to int, known bool) {
	if x, is := r.ranges[id]; is {
		return x[0], x[1], true
	}
	e := r.byID[id]
	if e == nil {
		return 0, 0, false
	}
	from = -1
	for i, span := range r.layout.measures {
		if span.Start < e.Span.Start || span.End > e.Span.End || r.measures[i].elsewhere {
			continue
		}
		if from < 0 {
			from = i
		}
		to = i + 1
	}
	return from, to, from >= 0
}
