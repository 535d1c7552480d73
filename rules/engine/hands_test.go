package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// What the way delivered costs another hand more is what the prices of that hand come to on it, stroke by stroke, less
// those of the hand that it was found for: the oracle prices the line for both anew.
func TestMoreForOtherHands(t *testing.T) {
	hands := []hand.Profile{hand.NinthHand, hand.OctaveHand, hand.TenthHand}
	differ := false
	rapid.Check(t, func(t *rapid.T) {
		notes := music().Draw(t, "music")
		for i := range notes {
			notes[i].Micros = notes[i].Onset.Num * rapid.Int64Range(20_000, 900_000).Draw(t, "micros")
			notes[i].Slurred, notes[i].Leads = rapid.Bool().Draw(t, "slurred"), rapid.Bool().Draw(t, "leads")
			if rapid.IntRange(0, 7).Draw(t, "changed") == 0 {
				notes[i].Then = fingering.Finger(rapid.IntRange(1, 5).Draw(t, "then"))
			}
			notes[i].Remembered, notes[i].Worth = fingering.Finger(rapid.IntRange(0, 5).Draw(t, "finger")), 900
		}
		h := rapid.SampledFrom([]fingering.Hand{fingering.Right, fingering.Left}).Draw(t, "hand")
		own := rapid.IntRange(0, 2).Draw(t, "own")
		profile, others := hands[own], append(append([]hand.Profile{}, hands[:own]...), hands[own+1:]...)
		aims := effort.PlainAims()
		if rapid.Bool().Draw(t, "mixed") {
			aims.Mix = [3]int{20, 50, 30}
		}
		aims.NoLearned = rapid.Bool().Draw(t, "no network")
		all := Finger(h, profile, effort.Delivered(), notes,
			Options{Decode: Cheapest, Choices: true, Aims: aims, PracticePercent: 70, OtherHands: others})

		line := fingering.NewLine(h, notes, profile.Fits)
		l := lattice.New(line, profile)
		require.Len(t, all.MoreForHands, l.Events())
		var search lattice.Workspace
		model := effort.NewPricerFor(effort.Delivered(), profile, aims).Model(line, l)
		path, _ := search.Price(l, model).Forward().Cheapest()
		aims.NoLearned = true // it is rounded with the price of a key, and the same for all hands
		priced := func(p hand.Profile) (prices []int64) {
			var work lattice.Workspace
			other := lattice.New(line, p)
			model := effort.NewPricerFor(effort.Delivered(), p, aims).Model(line, other)
			got := work.Price(other, model.WithoutReturns())
			sum := int64(0)
			for e := range path {
				so := got.Cost(path[:e+1])
				prices = append(prices, so-sum-int64(other.Freed(e)))
				sum = so
			}
			return prices
		}
		mine := priced(profile)
		for i, other := range others {
			theirs := priced(other)
			for e, stroke := range all.MoreForHands {
				require.Equal(t, theirs[e]-mine[e], stroke.More[i], "event %d", e)
				differ = differ || stroke.More[i] != 0
			}
		}
	})
	require.True(t, differ, "no draw in which hands differ")
}
