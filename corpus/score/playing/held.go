package playing

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

// hold finds what is held into each stroke of a line, and into what it takes over.
func (p *Playing) hold(s *score.Score, l *Line) {
	type down struct {
		note, key int
		until     score.Fraction
	}
	var open []down
	var held []int // of all strokes; each has a piece of it
	strokes, taken := l.Strokes, l.Taken
	for len(strokes)+len(taken) > 0 {
		from := &strokes
		if len(strokes) == 0 || len(taken) > 0 && taken[0].Compare(strokes[0].Instant) <= 0 {
			from = &taken
		}
		st := &(*from)[0]
		*from = (*from)[1:]
		open = slices.DeleteFunc(open, func(d down) bool { return d.until.Cmp(st.At) <= 0 })
		first := len(held)
		for _, d := range open {
			if !slices.ContainsFunc(st.Notes, func(n int) bool { return s.Notes[n].Midi == d.key }) {
				held = append(held, d.note)
			}
		}
		st.Held = held[first:len(held):len(held)]
		slices.SortFunc(st.Held, func(a, b int) int {
			return cmp.Or(cmp.Compare(s.Notes[a].Midi, s.Notes[b].Midi), cmp.Compare(a, b))
		})
		for _, n := range st.Notes {
			if until := p.until(s, n); st.At.Less(until) {
				open = append(open, down{n, s.Notes[n].Midi, until})
			}
		}
	}
}

// until is the end of a note as written, ties followed as long as the hand is the same.
func (p *Playing) until(s *score.Score, n int) score.Fraction {
	for to := s.Notes[n].TiedTo; to >= 0 && p.spots[to].line == p.spots[n].line; to = s.Notes[n].TiedTo {
		n = to
	}
	return s.At(n).Add(s.Notes[n].Duration)
}
