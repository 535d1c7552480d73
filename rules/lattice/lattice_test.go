package lattice

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// arbitrary prices anything by drawn numbers: the kernel must not care what they mean.
type arbitrary struct {
	l    *Lattice
	seed uint64
	flat bool
}

func (a *arbitrary) fill(kind, e int, out []int32) {
	x := a.seed + uint64(kind)*977 + uint64(e)*7919
	for i := range out {
		x = x*6364136223846793005 + 1442695040888963407
		out[i] = int32(x>>33)%9000 - 2000
	}
}
func (a *arbitrary) Unary(e int, out []int32) { a.fill(1, e, out) }
func (a *arbitrary) Pair(e int, out []int32)  { a.fill(2, e, out) }
func (a *arbitrary) Triple(e int, out []int32) bool {
	if a.flat && e%2 == 0 {
		return false
	}
	a.fill(3, e, out)
	return true
}

func drawn(t *rapid.T) (*Lattice, *arbitrary) {
	n := rapid.IntRange(1, 5).Draw(t, "events")
	var notes []fingering.Note
	for e := range n {
		for range rapid.IntRange(1, 3).Draw(t, "keys") {
			on := fingering.Moment{Num: int64(e), Den: 1}
			notes = append(notes, fingering.Note{ID: len(notes), Key: rapid.IntRange(55, 75).Draw(t, "key"), Onset: on,
				End: fingering.Moment{Num: int64(e + rapid.IntRange(1, 3).Draw(t, "length")), Den: 1}})
		}
	}
	l := New(fingering.NewLine(fingering.Right, notes, hand.NinthHand.Fits), hand.NinthHand)
	return l, &arbitrary{l: l, seed: rapid.Uint64().Draw(t, "prices"), flat: rapid.Bool().Draw(t, "flat")}
}

// everyPath calls visit for every path through the lattice.
func everyPath(l *Lattice, visit func(path []int)) {
	path := make([]int, l.Events())
	var walk func(e int)
	walk = func(e int) {
		if e == len(path) {
			visit(path)
			return
		}
		for g := range l.Count(e) {
			path[e] = g
			walk(e + 1)
		}
	}
	walk(0)
}

// Brute force is the oracle: it never beats and is never beaten by the search; the margins are the best costs through
// each grip, and the posteriors the shares of each grip.
func TestSearchAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, m := drawn(t)
		var work Workspace
		priced := work.Price(l, m)
		forward := priced.Forward()
		path, cost := forward.Cheapest()
		require.Equal(t, cost, priced.Cost(path))
		low := int64(math.MaxInt64)
		best := make([]int64, len(l.grips))
		weight := make([]float64, len(l.grips))
		for i := range best {
			best[i] = math.MaxInt64
		}
		total := 0.0
		everyPath(l, func(p []int) {
			c := priced.Cost(p)
			low = min(low, c)
			w := math.Exp(-float64(c-cost) / Nat)
			total += w
			for e, g := range p {
				i := int(l.first[e]) + g
				best[i] = min(best[i], c)
				weight[i] += w
			}
		})
		require.Equal(t, low, cost)
		posterior := priced.Posterior() // before the backward pass: neither disturbs the other
		marginals := forward.Backward()
		require.Equal(t, best, marginals.grip)
		for e := range l.Events() {
			for g := range l.Grips(e) {
				from, stretch := marginals.Departure(e, g, path)
				other := append([]int(nil), path...)
				copy(other[from:], stretch)
				require.Equal(
					t, best[int(l.first[e])+g], priced.Cost(other),
					"the passage that follows from a choice costs what was said",
				)
			}
		}
		for i, p := range posterior.grip {
			require.InDelta(t, weight[i]/total, math.Exp(-float64(p)/Nat), 0.02)
		}
	})
}

// No machine's mathematics may move an entry of a table over a rounding edge.
func TestTablesAreFarFromRoundingEdges(t *testing.T) {
	for i := range logAdd {
		f := logAddExact(i)
		require.Greater(t, math.Abs(f-math.Floor(f)-0.5), 1e-7, "log-add entry %d", i)
	}
	for i := range exps {
		f := expExact(i)
		require.Greater(t, math.Abs(f-math.Floor(f)-0.5), 1e-7, "exponential entry %d", i)
	}
}

func TestEveryEventHasGrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, _ := drawn(t)
		for e := range l.Events() {
			require.NotZero(t, l.Count(e))
			require.LessOrEqual(t, l.Count(e), 255)
			for _, g := range l.Grips(e) {
				for i := range l.Line.Events[e].Keys {
					require.True(t, g.Fingers[i].Valid())
				}
			}
		}
	})
}

// What stands in a workspace is void as soon as it prices another lattice; to use it all the same is a fault that is
// found.
func TestAWorkspaceSearchesOneLatticeAtATime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, m := drawn(t)
		other, n := drawn(t)
		var work, fresh Workspace
		first := work.Price(l, m)
		forward := first.Forward()
		marginals, posterior := forward.Backward(), first.Posterior()
		used, unused := work.Price(other, n), fresh.Price(other, n)
		path, cost := used.Forward().Cheapest()
		again, same := unused.Forward().Cheapest()
		require.Equal(t, again, path, "used memory leaves no trace")
		require.Equal(t, same, cost)
		require.Equal(t, unused.Forward().Backward().grip, used.Forward().Backward().grip)
		require.Equal(t, unused.Posterior().grip, used.Posterior().grip)
		for name, use := range map[string]func(){
			"Cost":          func() { first.Cost(nil) },
			"Forward":       func() { first.Forward() },
			"Posterior":     func() { first.Posterior() },
			"Cheapest":      func() { forward.Cheapest() },
			"Backward":      func() { forward.Backward() },
			"Departure":     func() { marginals.Departure(0, 0, nil) },
			"MostAgreement": func() { posterior.MostAgreement(nil, nil) },
		} {
			require.PanicsWithValue(t, "lattice: prices used after their workspace priced another lattice", use, name)
		}
	})
}

func TestALineWithoutEvents(t *testing.T) {
	l := New(fingering.NewLine(fingering.Right, nil, hand.NinthHand.Fits), hand.NinthHand)
	var work Workspace
	priced := work.Price(l, &arbitrary{l: l})
	path, cost := priced.Forward().Cheapest()
	require.Empty(t, path)
	require.Zero(t, cost)
	require.Empty(t, priced.Forward().Backward().grip)
	require.Empty(t, priced.Posterior().MostAgreement(nil, nil))
}
