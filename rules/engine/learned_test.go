package engine

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fingering/written"
	"fingerproof/rules/hand"
	"fingerproof/rules/learned"
)

// An explanation says what the network holds against each finger, as the network itself says it at the weight of the
// table, and the criterion "learned" has what it holds against the finger that is taken; without the network neither.
func TestTheNetworkIsExplained(t *testing.T) {
	table := effort.Delivered()
	weight := 0
	for term := range effort.Terms {
		if term.Name() == "what the network holds against a finger" {
			weight = int(table.Terms[term])
		}
	}
	require.Positive(t, weight)
	// Leaps and turns: no handbook run, where the network is silent.
	notes := written.Notes("c5 e5 d5 g4 c5 f#5 e5 b4 a5 c5 d#5 e5 g4 b4", 200_000)
	says := learned.Shipped().Says(fingering.NewLine(fingering.Right, notes, hand.NinthHand.Fits), &learned.Workspace{})
	named := func(r Result, n int) (cost int, some bool) {
		k := slices.IndexFunc(r.Notes[n].Effort, func(e Effort) bool { return e.Criterion == "learned" })
		if k < 0 {
			return 0, false
		}
		return r.Notes[n].Effort[k].Cost, true
	}
	asked := Finger(fingering.Right, hand.NinthHand, table, notes, Options{Explain: true, Aims: effort.PlainAims()})
	charged := 0
	for n, note := range asked.Notes {
		for f, cost := range note.Learned {
			require.InDelta(t, float64(weight)*float64(says[n][f])/1000, cost, 1, "note %d, finger %d", n, f+1)
		}
		cost, some := named(asked, n)
		require.Equal(t, note.Learned[note.Finger-1] != 0, some, "note %d", n)
		require.InDelta(t, note.Learned[note.Finger-1], cost, 1, "note %d", n)
		if some {
			charged++
		}
	}
	require.Positive(t, charged, "somewhere another finger is taken than the network likes best")

	silent := Finger(fingering.Right, hand.NinthHand, table, notes, Options{Explain: true, Aims: withoutNetwork()})
	for n, note := range silent.Notes {
		require.Zero(t, note.Learned)
		_, some := named(silent, n)
		require.False(t, some, "note %d", n)
	}
}
