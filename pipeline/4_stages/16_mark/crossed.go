package mark

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/policies"
	"fingerproof/rules/fingering"
)

// crossOver puts redistributed notes on the staff of the hand that takes them
// and says which note went to which staff. Each keeps its voice, so that
// nothing moves in time; where all that hangs on a stem goes over, the stem
// points back to the staff the voice comes from, up from the lower staff and
// down from the upper one (common practice). Parts of another number of staves
// than two, and suggestions that are not marked, stay as written.
func crossOver(
	s *score.Score, all []fingering.Redistribution, policy *policies.Policy, m *score.Marking,
) map[int]int {
	out := map[int]int{}
	for i := range all {
		r := &all[i]
		if !r.Decided && policy.RedistributeMarks() == "none" {
			continue
		}
		staff := 1
		if r.To == score.Left {
			staff = 2
		}
		for _, n := range r.Notes {
			if s.Parts[s.Notes[n].Part].Staves == 2 && s.Notes[n].Staff != staff {
				out[n] = staff
			}
		}
	}
	var moved []int
	for n := range out {
		moved = append(moved, n)
	}
	slices.Sort(moved)
	for _, n := range moved {
		stem := ""
		if wholeStem(s, n, out) {
			stem = "up"
			if out[n] == 1 {
				stem = "down"
			}
		}
		m.Move(n, out[n], stem)
	}
	return out
}

// wholeStem says that every note of the chord of a note goes over with it.
func wholeStem(s *score.Score, n int, moved map[int]int) bool {
	first, last := n, n
	for s.Notes[first].Chord && first > 0 {
		first--
	}
	for last+1 < len(s.Notes) && s.Notes[last+1].Chord {
		last++
	}
	for k := first; k <= last; k++ {
		if moved[k] != moved[n] {
			return false
		}
	}
	return true
}
