package page

import (
	"cmp"
	"maps"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/wording"
)

// namedAtTop is how many places are named on top of a page; of more only their number is told.
const namedAtTop = 6

// back says of a piece in which something is decided what is open in it: an editor who comes back to it sees first what for.
func (m *Material) back() string {
	decided := 0
	for _, count := range m.InFiles {
		decided += count
	}
	if decided == 0 || len(m.Open) == 0 {
		return ""
	}
	type place struct {
		measure int
		hand    score.Hand
	}
	at := map[place]bool{}
	for _, i := range m.Open {
		if n := m.look().notes.Of(i); n != nil {
			at[place{n.MeasureIndex, n.Hand}] = true
		}
	}
	places := slices.SortedFunc(maps.Keys(at), func(a, b place) int {
		return cmp.Or(cmp.Compare(a.measure, b.measure), cmp.Compare(a.hand, b.hand))
	})
	said := "Open beside what is decided: " + wording.Count(len(m.Open), "digit") + " that will print, "
	if len(places) > namedAtTop {
		return said + "at " + wording.Count(len(places), "place") + "."
	}
	var named []string
	for _, p := range places {
		named = append(named, m.measureRange(p.measure, p.measure)+", "+p.hand.Words())
	}
	return said + wording.List(named) + "."
}
