package review

import (
	"slices"
	"testing"

	"fingerproof/rules/parallel"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Linking in one walk gives what looking through every return for every pair of passages gives.
func TestLinkingReturnsMissesNone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := rapid.IntRange(4, 24).Draw(t, "notes")
		some := rapid.SliceOfNDistinct(rapid.IntRange(0, notes-1), 1, 5, rapid.ID[int])
		var passages []Passage
		for i := range rapid.IntRange(2, 8).Draw(t, "passages") {
			p := Passage{Number: i + 1, Redistribution: rapid.SampledFrom([]int{-1, -1, -1, 0}).Draw(t, "offer"), Notes: some.Draw(t, "of")}
			slices.Sort(p.Notes)
			p.Doubts = p.Notes[:rapid.IntRange(0, len(p.Notes)).Draw(t, "doubts")]
			passages = append(passages, p)
		}
		var returns []parallel.Return
		for range rapid.IntRange(0, 5).Draw(t, "returns") {
			later := some.Draw(t, "later")
			first := rapid.SliceOfN(rapid.IntRange(0, notes-1), len(later), len(later)).Draw(t, "first")
			returns = append(returns, parallel.Return{First: first, Later: later})
		}
		want := slices.Clone(passages)
		from := func(first *Passage, n int) bool { // a return brings a note back from a passage
			for r := range returns {
				for i, later := range returns[r].Later {
					if later == n && slices.Contains(first.Notes, returns[r].First[i]) {
						return true
					}
				}
			}
			return false
		}
		for k := range want {
			for r := range returns {
				if len(want[k].Doubts) == 0 {
					continue
				}
				i := slices.Index(returns[r].Later, want[k].Doubts[0])
				j := slices.IndexFunc(want[:k], func(first Passage) bool {
					return i >= 0 && slices.Contains(first.Notes, returns[r].First[i]) && first.Redistribution < 0 && first.ReturnOf == 0 &&
						!slices.ContainsFunc(want[k].Doubts, func(n int) bool { return !from(&first, n) })
				})
				if want[k].ReturnOf == 0 && j >= 0 && len(want[k].Doubts) > 0 && want[k].Redistribution < 0 {
					want[k].ReturnOf, want[j].ForReturns = want[j].Number, true
				}
			}
		}
		linkReturns(passages, returns)
		for k := range want {
			require.Equal(t, want[k].ReturnOf, passages[k].ReturnOf, k)
			require.Equal(t, want[k].ForReturns, passages[k].ForReturns, k)
		}
	})
}
