package musicxml

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
)

// ties joins notes tied to each other: same part, same key, the second
// beginning where the first ends. The same voice is preferred; spelling,
// staff and barline do not matter. A tie that starts and leads nowhere, or
// arrives from nowhere, is noted, and its second note counts as struck.
func (r *reader) ties() {
	notes := r.score.Notes
	var order []int
	for i := range notes {
		if notes[i].Kind == score.Pitched && (notes[i].TieStart || notes[i].TieStop) {
			order = append(order, i)
		}
	}
	starts := make(map[int]playing.Instant, len(order))
	for _, i := range order {
		starts[i] = playing.InstantOf(r.score, i)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(notes[a].Part-notes[b].Part, starts[a].Compare(starts[b]), cmp.Compare(a, b))
	})
	open := map[tieKey][]int{} // notes whose tie starts and has not been continued
	var dangling []int
	for _, i := range order {
		n := &notes[i]
		if n.TieStop {
			key := tieKey{n.Part, n.Midi, starts[i].At}
			if k := r.bestTie(open[key], i); k >= 0 {
				from := open[key][k]
				n.TiedFrom, notes[from].TiedTo = from, i
				open[key] = slices.Delete(open[key], k, k+1)
			} else {
				r.odd(score.OddTie, i, n.Part, n.Measure, n.Line, "a tie arrives at %s from no note; it counts as struck", n.Pitch)
			}
		}
		if n.TieStart {
			key := tieKey{n.Part, n.Midi, starts[i].At.Add(n.Duration)}
			if len(open[key]) < mostUnisons {
				open[key] = append(open[key], i)
			} else {
				dangling = append(dangling, i)
			}
		}
	}
	for _, ties := range open {
		dangling = append(dangling, ties...)
	}
	slices.Sort(dangling)
	for _, i := range dangling {
		n := &notes[i]
		// Into a second ending, or over a repeat, a tie rightly leads nowhere on the page.
		m := &r.score.Measures[n.Measure]
		atEnd := !n.Onset.Add(n.Duration).Less(m.Length)
		if atEnd && (m.Repeat.Backward || len(m.Endings) > 0) || n.Cue {
			continue
		}
		r.odd(score.OddTie, i, n.Part, n.Measure, n.Line, "a tie starts at %s, but leads to no note", n.Pitch)
	}
}

// tieKey is what both ends of a tie agree in: the part, the key, and the
// moment where the first note ends and the second begins.
type tieKey struct {
	part, midi int
	at         score.Fraction
}

// mostUnisons bounds how many ties on one key may lead to one moment; no
// music has nearly as many.
const mostUnisons = 32

// bestTie picks the open tie that leads to a note: of the same voice if
// possible, then of the same staff.
func (r *reader) bestTie(open []int, note int) int {
	best, rank := -1, 0
	n := &r.score.Notes[note]
	for k, from := range open {
		m := &r.score.Notes[from]
		score := 1
		if m.Staff == n.Staff {
			score++
		}
		if m.Voice == n.Voice {
			score += 2
		}
		if score > rank {
			best, rank = k, score
		}
	}
	return best
}
