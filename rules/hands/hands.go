// Package hands tells which hand plays a note from the music alone: from onset, length and key. A staff is not a hand: composers
// write notes on the other staff to save ledger lines, and such notes are no redistribution.
package hands

import (
	"cmp"
	"slices"

	"fingerproof/corpus/score"
)

// Note is a key that goes down.
type Note struct {
	Key   int
	Onset int64 // in ticks, TicksPerQuarter a quarter
	End   int64
	Grace int // 0 for an ordinary note, else 1… in playing order before the ordinary notes of that onset
	// Fixed is the hand that is known to play it, NoHand where it is to be found out.
	Fixed score.Hand
	// Leans is a hand that something else speaks for (a staff, say), with Weight in the units of the costs; NoHand for none.
	Leans  score.Hand
	Weight int64
}

// TicksPerQuarter is the grain of time.
const TicksPerQuarter = 5040

// beam is how many beginnings are kept at every moment.
const beam = 96

// Infer gives the hand of every note of one player. Notes may come in any order. The result depends on the notes alone. It takes
// time linear in the number of moments.
func Infer(notes []Note) []score.Hand { return infer(notes, &shipped) }

func infer(notes []Note, w *Weights) []score.Hand {
	moments := momentsOf(notes)
	best := search(notes, moments, w)
	out := make([]score.Hand, len(notes))
	for k := len(moments) - 1; k >= 0; k-- {
		for i, n := range moments[k] {
			out[n] = best.choice.hand(i)
		}
		best = best.before
	}
	return out
}

// momentsOf groups notes struck together, lowest key first.
func momentsOf(notes []Note) [][]int {
	order := make([]int, len(notes))
	for i := range order {
		order[i] = i
	}
	rank := func(n *Note) int {
		if n.Grace == 0 {
			return 1 << 20
		}
		return n.Grace
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := &notes[a], &notes[b]
		return cmp.Or(cmp.Compare(x.Onset, y.Onset), cmp.Compare(rank(x), rank(y)), cmp.Compare(x.Key, y.Key), cmp.Compare(a, b))
	})
	var out [][]int
	for k, i := range order {
		if k == 0 || notes[i].Onset != notes[order[k-1]].Onset || rank(&notes[i]) != rank(&notes[order[k-1]]) {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], i)
	}
	return out
}

// choice deals the keys of a moment: the lower ones up to split to one hand, the others to the other.
type choice struct {
	split   int
	crossed bool // the right hand takes the lower ones
}

func (c choice) hand(i int) score.Hand {
	if (i < c.split) != c.crossed {
		return score.Left
	}
	return score.Right
}

// place is where a hand was last.
type place struct {
	low, high  int   // keys
	onset, end int64 // of its last stroke; the end of its longest note
	length     int64 // of that stroke's first note
	known      bool
}

// state is one beginning of the piece with the hands dealt.
type state struct {
	cost   int64
	hands  [2]place // left, right
	choice choice
	before *state
}

// search keeps the cheapest beginnings, moment by moment.
func search(notes []Note, moments [][]int, w *Weights) *state {
	states := []*state{{}}
	for _, m := range moments {
		var next []*state
		for _, s := range states {
			for _, c := range choices(notes, m) {
				n := &state{cost: s.cost, hands: s.hands, choice: c, before: s}
				n.cost += step(notes, m, s, c, func(f Feature, v int64) int64 { return int64(w[f]) * v }, &n.hands)
				next = append(next, n)
			}
		}
		slices.SortStableFunc(next, func(a, b *state) int { return cmp.Compare(a.cost, b.cost) })
		states = prune(next)
	}
	return states[0]
}

// prune keeps the best of each pair of places, and of those the cheapest.
func prune(states []*state) []*state {
	seen := map[[2]place]bool{}
	var out []*state
	for _, s := range states {
		if seen[s.hands] {
			continue
		}
		seen[s.hands] = true
		if out = append(out, s); len(out) == beam {
			break
		}
	}
	return out
}

// choices lists how the keys of a moment can be dealt, those that go against fixed notes left out.
func choices(notes []Note, m []int) []choice {
	var out []choice
	for split := 0; split <= len(m); split++ {
		out = append(out, choice{split: split})
		if split > 0 && split < len(m) {
			out = append(out, choice{split: split, crossed: true})
		}
	}
	free := slices.DeleteFunc(slices.Clone(out), func(c choice) bool {
		for i, n := range m {
			if f := notes[n].Fixed; f != score.NoHand && f != c.hand(i) {
				return true
			}
		}
		return false
	})
	if len(free) > 0 {
		return free
	}
	return out
}
