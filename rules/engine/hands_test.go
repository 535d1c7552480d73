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

// What is priced for one hand by what it costs more than another comes to what pricing anew comes to, event by event:
// oracle is each hand asked alone, and, for the sum, the fingering of the function Finger that is cheapest.
func TestLeastEffortsOfHandsAskedTogether(t *testing.T) {
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
		}
		h := rapid.SampledFrom([]fingering.Hand{fingering.Right, fingering.Left}).Draw(t, "hand")
		aims := effort.PlainAims()
		if rapid.Bool().Draw(t, "mixed") {
			aims.Mix = [3]int{20, 50, 30}
		}
		// What the network says is taken out of a price that was rounded with it: only without it is all exact.
		aims.NoLearned = rapid.IntRange(0, 3).Draw(t, "network") > 0
		var together Worker
		together.Beside(hands[1:])
		if rapid.Bool().Draw(t, "after a search") { // which keeps the prices of the line, and what is remembered
			for i := range notes {
				notes[i].Remembered, notes[i].Worth = fingering.Finger(rapid.IntRange(0, 5).Draw(t, "finger")), 900
			}
			together.Finger(h, hands[0], effort.Delivered(), notes, Options{Choices: true, Aims: aims, PracticePercent: 70})
		}
		all := together.LeastEfforts(h, hands[0], effort.Delivered(), notes, aims)
		for i := range notes {
			notes[i].Remembered, notes[i].Worth = 0, 0
		}
		for i, profile := range hands {
			var alone Worker
			own := alone.LeastEfforts(h, profile, effort.Delivered(), notes, aims)[0]
			if aims.NoLearned {
				require.Equal(t, own, all[i])
			} else {
				require.Len(t, all[i], len(own))
			}
			plain := aims
			plain.NoLearned = true
			want := Finger(h, profile, effort.Delivered(), notes, Options{Decode: Cheapest, Aims: plain})
			sum := int64(0)
			for _, e := range all[i] {
				sum += e.Cost
			}
			require.InDelta(t, want.Total-want.SetFree, sum*1000/lattice.Nat, 2+float64(len(notes))/2)
		}
		if len(notes) > 0 && !differ {
			for e := range all[0] {
				differ = differ || len(all[1]) == len(all[0]) && all[0][e].Cost != all[1][e].Cost
			}
		}
	})
	require.True(t, differ, "no draw in which hands differ")
}
