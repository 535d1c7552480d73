package lattice

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// coarse prices everything at 0, 1 or 2, so that many paths cost the same.
type coarse struct{ arbitrary }

func (c *coarse) fill(kind, e int, out []int32) {
	c.arbitrary.fill(kind, e, out)
	for i := range out {
		out[i] = (out[i]%3 + 3) % 3
	}
}
func (c *coarse) Unary(e int, out []int32)       { c.fill(1, e, out) }
func (c *coarse) Pair(e int, out []int32)        { c.fill(2, e, out) }
func (c *coarse) Triple(e int, out []int32) bool { c.fill(3, e, out); return true }

// Of paths that cost the same, the one with the smaller grip at the last place where they differ is taken.
func TestTiesAreBrokenFromTheEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, m := drawn(t)
		var work Workspace
		s := work.Price(l, &coarse{*m})
		path, cost := s.Forward().Cheapest()
		var want []int
		everyPath(l, func(p []int) {
			if s.Cost(p) != cost {
				return
			}
			if want == nil || before(p, want) {
				want = append([]int(nil), p...)
			}
		})
		require.Equal(t, want, path)
	})
}

// before says that a has the smaller number at the last place where the two differ.
func before(a, b []int) bool {
	for e := len(a) - 1; e >= 0; e-- {
		if a[e] != b[e] {
			return a[e] < b[e]
		}
	}
	return false
}

// Stretches that begin and end with the same two grips are compared by what they cost in between.
func TestStretchesAreComparedAsWholePathsAre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, m := drawn(t)
		var work Workspace
		s := work.Price(l, m)
		path, cost := s.Forward().Cheapest()
		other := append([]int(nil), path...)
		for e := range other {
			other[e] = rapid.IntRange(0, l.Count(e)-1).Draw(t, "grip")
		}
		from := rapid.IntRange(0, l.Events()-1).Draw(t, "from")
		if from > 0 { // two grips in a row are the same before what differs
			copy(other[:min(from+2, len(other))], path)
		}
		require.Equal(t, s.Cost(other)-cost, s.StretchCost(from, other[from:])-s.StretchCost(from, path[from:]))
	})
}

// Brute force over the sum of what agrees, less what the hand cannot do and changes on held keys.
func TestMostAgreementAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, m := drawn(t)
		var work Workspace
		priced := work.Price(l, m)
		s := priced.Posterior()
		gain := make([]int64, len(l.grips))
		for i := range gain {
			gain[i] = rapid.Int64Range(0, 3).Draw(t, "gain") * Agreement / 2
		}
		joints := drawnJoints{seed: rapid.Int32Range(0, 1000).Draw(t, "joints"), l: l}
		worth := func(p []int) (sum int64) { // in 1/4096 nat, a sure finger PathShare of them
			for e, g := range p {
				sum += PathShare*gain[int(l.first[e])+g]*Nat/Agreement - (PathShare-1)*int64(l.Hard(e)[g])
				if e > 0 {
					sum += int64(joints.pair(e, p[e-1], g)) * jointUnit
				}
				if e > 1 {
					sum += int64(joints.row(e, p[e-2], g)) * jointUnit
				}
				if e > 0 {
					l.Changed(e, l.Grips(e - 1)[p[e-1]], l.Grips(e)[g], func(int) {
						sum -= (PathShare - 1) * ChangeOnHeldKey
					})
				}
			}
			return sum - priced.Cost(p)
		}
		var want []int
		everyPath(l, func(p []int) {
			if want == nil || worth(p) > worth(want) || worth(p) == worth(want) && before(p, want) {
				want = append([]int(nil), p...)
			}
		})
		require.Equal(t, want, s.MostAgreement(gain, joints))
		require.Equal(t, want, s.MostAgreement(gain, joints), "again, with the tables kept")
	})
}

// drawnJoints gains something, or loses it, by grips of events of even number, and by those of one of odd number with
// the one before the last.
type drawnJoints struct {
	seed int32
	l    *Lattice
}

func (d drawnJoints) pair(e, a, b int) int32 {
	if e%2 == 1 {
		return 0
	}
	return (d.seed*7+int32(31*e+11*a+5*b))%601 - 200
}

func (d drawnJoints) row(e, a, c int) int32 {
	if e%2 == 0 {
		return 0
	}
	return (d.seed*5+int32(17*e+3*a+13*c))%401 - 100
}

func (d drawnJoints) PairGains(e int, out []int32) bool {
	n := d.l.Count(e)
	for i := range out {
		out[i] += d.pair(e, i/n, i%n)
	}
	return e%2 == 0
}

func (d drawnJoints) RowGains(e int, out []int32) bool {
	if e < 2 || e%2 == 0 {
		return false
	}
	b, c := d.l.Count(e-1), d.l.Count(e)
	for i := range out {
		out[i] += d.row(e, i/(b*c), i%c)
	}
	return true
}

// sticky prices every change of finger at a nat and every finger but the thumb a little.
type sticky struct{ l *Lattice }

func (s sticky) Unary(_ int, out []int32) {
	for g := range out {
		out[g] = int32(g)
	}
}
func (s sticky) Pair(e int, out []int32) {
	n := s.l.Count(e)
	for i := range out {
		out[i] = 0
		if i/n != i%n {
			out[i] = Nat
		}
	}
}
func (s sticky) Triple(int, []int32) bool { return false }

// A choice draws its passage after it on both sides, but no further than 48 strokes.
func TestAPassageEnds(t *testing.T) {
	var notes []fingering.Note
	for i := range 201 {
		at := fingering.Moment{Num: int64(i), Den: 1}
		notes = append(notes, fingering.Note{
			ID: i, Key: 60 + i%2, Onset: at, End: fingering.Moment{Num: int64(i + 1), Den: 1},
		})
	}
	l := New(fingering.NewLine(fingering.Right, notes, hand.NinthHand.Fits), hand.NinthHand)
	var work Workspace
	forward := work.Price(l, sticky{l}).Forward()
	path, _ := forward.Cheapest()
	s := forward.Backward()
	from, way := s.Departure(100, 1, path)
	require.Equal(t, 100-48, from)
	require.Len(t, way, 48+1+48)
	for _, g := range way {
		require.Equal(t, 1, g)
	}
	from, way = s.Departure(100, 0, path)
	require.Equal(t, 99, from, "the path taken departs nowhere: two strokes in a row agree on either side")
	require.Equal(t, path[99:103], way)
}

// A key held on keeps its finger or pays for the change: six nats.
func TestAChangeOnAHeldKeyHasItsPrice(t *testing.T) {
	notes := []fingering.Note{
		{ID: 0, Key: 60, End: fingering.Moment{Num: 2, Den: 1}},
		{ID: 1, Key: 64, Onset: fingering.Moment{Num: 1, Den: 1}, End: fingering.Moment{Num: 2, Den: 1}},
	}
	l := New(fingering.NewLine(fingering.Right, notes, hand.NinthHand.Fits), hand.NinthHand)
	out := make([]int32, l.Count(0)*l.Count(1))
	l.AddChanges(1, ChangeOnHeldKey, out)
	for a, before := range l.Grips(0) {
		for b, here := range l.Grips(1) {
			changes, want := []int(nil), int32(0)
			l.Changed(1, before, here, func(strike int) { changes = append(changes, strike) })
			if before.Fingers[0] != here.Fingers[0] {
				want = 6 * Nat
				require.Equal(t, []int{0}, changes)
			} else {
				require.Empty(t, changes)
			}
			require.Equal(t, want, out[a*l.Count(1)+b])
		}
	}
}

// Costs are joined as probabilities add, to 1/200 nat; and turn into probabilities to one in a hundred.
func TestLogarithmsOfShares(t *testing.T) {
	for _, share := range []int64{1, 2, 3, 100, 4097, 20_000, 40_000, Agreement - 1, Agreement} {
		require.InDelta(t, Nat*math.Log(float64(share)), LogOf(share), Nat/200, "%d", share)
	}
	require.Zero(t, LogOf(0))
	for share := int64(1); share < Agreement; share++ {
		require.LessOrEqual(t, LogOf(share), LogOf(share+1))
	}
	for i := range logs {
		exact := Nat * math.Log1p(float64(i)/16)
		require.Greater(t, math.Abs(exact-math.Floor(exact)-.5), 1e-6, "another machine might round it otherwise")
	}
}

// What is added to the price of a grip is added to every path through it, and can be taken off again; what was found
// before is void.
func TestPricesAddedToGrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, m := drawn(t)
		var work Workspace
		priced := work.Price(l, m)
		path, cost := priced.Forward().Cheapest()
		extra := make([]int32, l.Total())
		for g := range extra {
			extra[g] = int32(rapid.IntRange(-5000, 5000).Draw(t, "extra"))
		}
		more := priced.With(extra)
		require.Panics(t, func() { priced.Cost(path) })
		sum := cost
		for e, g := range path {
			sum += int64(extra[int(l.first[e])+g])
		}
		require.Equal(t, sum, more.Cost(path))
		back, was := more.With(make([]int32, l.Total())).Forward().Cheapest()
		require.Equal(t, path, back)
		require.Equal(t, cost, was)
	})
}

func TestProbabilitiesOfCosts(t *testing.T) {
	for d := int64(0); d < 60_000; d += 37 {
		exact := -math.Log(math.Exp(-1)+math.Exp(-1-float64(d)/Nat)) * Nat
		require.InDelta(t, exact, float64(sum(Nat, Nat+d)), 20, "%d apart", d)
		require.Equal(t, sum(Nat, Nat+d), sum(Nat+d, Nat))
		share := math.Exp(-float64(d)/Nat) * Agreement
		require.InDelta(t, share, float64(Probability(d)), share/100+1, "%d", d)
	}
	require.Equal(t, int64(Agreement), Probability(0))
	require.Zero(t, Probability(1<<40))
}
