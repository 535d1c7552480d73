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

// everyWay calls visit for every way through the lattice.
func everyWay(l *Lattice, visit func(path []int)) {
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
		var s Search
		s.Load(l, m)
		path, cost := s.Cheapest()
		require.Equal(t, cost, s.Cost(path))
		low := int64(math.MaxInt64)
		best := make([]int64, len(l.grips))
		weight := make([]float64, len(l.grips))
		for i := range best {
			best[i] = math.MaxInt64
		}
		total := 0.0
		everyWay(l, func(p []int) {
			c := s.Cost(p)
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
		require.Equal(t, best, s.Margins())
		for e := range l.Events() {
			for g := range l.Grips(e) {
				from, way := s.Departure(e, g, path)
				other := append([]int(nil), path...)
				copy(other[from:], way)
				require.Equal(t, best[int(l.first[e])+g], s.Cost(other), "the passage that follows from a choice costs what was said")
			}
		}
		for i, p := range s.Posteriors() {
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
