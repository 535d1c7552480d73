package suggest

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/fingering"
)

// pedalling lists where the pedal is marked down, in order, from where to where; a change of pedal begins a new span.
type pedalling [][2]fingering.Moment

func pedalSpans(s *score.Score) (out pedalling) {
	type turn struct {
		at   fingering.Moment
		down bool
	}
	var turns []turn
	for i := range s.Directions {
		if d := &s.Directions[i]; d.Kind == score.Pedal {
			turns = append(turns, turn{moment(s.Measures[d.Measure].Start.Add(d.Onset)), d.Start || d.Change})
		}
	}
	slices.SortStableFunc(turns, func(a, b turn) int { return a.at.Compare(b.at) })
	down, since := false, fingering.Moment{}
	for _, t := range turns {
		if down && t.at.Compare(since) > 0 {
			out = append(out, [2]fingering.Moment{since, t.at})
		}
		down, since = t.down, t.at
	}
	if down { // to the end
		last := &s.Measures[len(s.Measures)-1]
		out = append(out, [2]fingering.Moment{since, moment(last.Start.Add(last.Length))})
	}
	return out
}

// sounds says that a key struck at one moment sounds on at another though it is let go.
func (p pedalling) sounds(struck, end fingering.Moment) bool {
	k, _ := slices.BinarySearchFunc(p, struck, func(span [2]fingering.Moment, at fingering.Moment) int {
		if span[1].Compare(at) <= 0 {
			return -1
		}
		return 1
	})
	return k < len(p) && p[k][0].Compare(struck) <= 0 && end.Compare(p[k][1]) <= 0
}
