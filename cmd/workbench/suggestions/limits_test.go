package suggestions

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendatatest"
	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// No grip, held keys included, goes beyond the limits of the hand unless its notes say so; and what is out of reach
// is so because nothing else can be done: it happens seldom (FACTS §7.1).
func TestNothingBeyondTheHandInFingered(t *testing.T) {
	if testing.Short() {
		t.Skip("runs over all of the fingered material")
	}
	pieces := opendatatest.Pieces(t)
	for _, p := range []hand.Profile{hand.OctaveHand, hand.NinthHand, hand.TenthHand} {
		t.Run(p.Name, func(t *testing.T) {
			t.Parallel()
			var worker engine.Worker
			var c gripCount
			for _, piece := range pieces {
				for h := range piece.Hands {
					h := fingering.Hand(h)
					r := worker.Finger(h, p, effort.Delivered(), piece.Hands[h], engine.Options{})
					at := map[int]*engine.Fingered{}
					for i := range r.Notes {
						at[r.Notes[i].ID] = &r.Notes[i]
					}
					c.line(h, piece.Hands[h], p, func(id int) *engine.Fingered { return at[id] })
				}
			}
			t.Logf("%+v", c)
			require.Zero(t, c.unsaid)
			require.Less(t, c.said, c.grips*5/100)
		})
	}
}
