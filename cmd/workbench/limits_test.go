package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/effort"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// No grip, held keys included, goes beyond the limits of the hand unless its notes say so; and what is out of reach is so
// because nothing else can be done: the share stays within what ENGINE's prototype found unavoidable.
func TestNothingBeyondTheHandInFingered(t *testing.T) {
	if testing.Short() {
		t.Skip("runs over all of the fingered material")
	}
	pieces := material(t)
	var worker engine.Worker
	for _, p := range []hand.Profile{hand.OctaveHand, hand.NinthHand, hand.TenthHand} {
		beyond, unsaid, notes, none, grips, saidWithout := 0, 0, 0, 0, 0, 0
		for _, piece := range pieces {
			for h := range piece.hands {
				h := fingering.Hand(h)
				r := worker.Finger(h, p, effort.Delivered(), piece.hands[h], engine.Options{})
				at := map[int]*engine.Note{}
				for i := range r.Notes {
					n := &r.Notes[i]
					at[n.ID] = n
					notes++
					if n.Finger == 0 {
						none++
						require.NotEmpty(t, n.OutOfReach)
					}
				}
				line := fingering.NewLine(h, piece.hands[h], p.Fits)
				for _, e := range line.Events {
					over, said := false, false
					for i, a := range e.Keys {
						for _, b := range e.Keys[i+1:] {
							x, y := at[line.Strikes[a.Strike].IDs[0]], at[line.Strikes[b.Strike].IDs[0]]
							if x.Substitution != 0 || y.Substitution != 0 || x.Finger == 0 || y.Finger == 0 {
								continue
							}
							over = over || p.Excess(int(x.Finger), int(y.Finger), hand.Distance(int(a.Key), int(b.Key))) > 0
						}
						said = said || a.Struck && at[line.Strikes[a.Strike].IDs[0]].OutOfReach != ""
					}
					if len(e.Keys) > 1 {
						grips++
					}
					switch {
					case over && !said:
						unsaid++
					case over:
						beyond++
					case said && len(e.Beyond) == 0:
						saidWithout++
					}
				}
			}
		}
		t.Logf("%s hand: %d of %d grips of several keys out of reach and said so, %d unsaid, %d said for other reasons; %d of %d notes without a finger",
			p.Name, beyond, grips, unsaid, saidWithout, none, notes)
		require.Zero(t, unsaid)
		require.Less(t, beyond, grips*5/100)
	}
}
