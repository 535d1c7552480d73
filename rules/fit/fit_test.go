package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/lattice"
)

// study is a little music of single keys, chords and a held key, drawn from a written recipe, with a digit on every
// third stroke.
func study(seed int) *Example {
	var notes []fingering.Note
	x := uint64(seed)*2862933555777941757 + 3037000493
	draw := func(n int) int {
		x = x*6364136223846793005 + 1442695040888963407
		return int(x>>33) % n
	}
	key := 62
	for e := range 40 {
		key = min(max(key+draw(9)-4, 50), 80)
		on, length := fingering.Moment{Num: int64(e), Den: 1}, int64(1)
		if draw(6) == 0 {
			length = 2
		}
		keys := []int{key}
		if draw(3) == 0 {
			keys = append(keys, key+3+draw(5))
		}
		for _, k := range keys {
			end := fingering.Moment{Num: int64(e) + length, Den: 1}
			notes = append(notes, fingering.Note{ID: len(notes), Key: k, Onset: on, End: end})
		}
	}
	line := fingering.NewLine(fingering.Right, notes, hand.NinthHand.Fits)
	l := lattice.New(line, hand.NinthHand)
	x2 := &Example{Lattice: l, Labels: make([]fingering.Finger, len(line.Strikes))}
	for e, ev := range line.Events {
		if e%3 != 0 {
			continue
		}
		g := l.Grips(e)[draw(l.Count(e))]
		for i, k := range ev.Keys {
			if k.Struck {
				x2.Labels[k.Strike] = g.Fingers[i]
			}
		}
	}
	return x2
}

func settings() Settings {
	s := Defaults()
	s.MinCount, s.Skip, s.Epochs = 1, nil, 2
	return s
}

// What the trainer sums up, window by window, is the price the search works with.
func TestWindowsPriceAsTheSearchDoes(t *testing.T) {
	x := study(3)
	weights := effort.HandSet()
	out := Train([]*Example{x}, weights, hand.NinthHand, settings())
	w := out.Weights("study", 0)
	require.NotEmpty(t, w.Habit)
	// Prices of whole ways by Explain, which sums the factors, and by the search, which fills blocks.
	p := effort.NewPricer(w, hand.NinthHand)
	m := p.Model(x.Lattice.Line, x.Lattice)
	var work lattice.Workspace
	path, cost := work.Price(x.Lattice, m).Forward().Cheapest()
	var sum int64
	for e, g := range path {
		var a, b fingering.Grip
		if e > 1 {
			a = x.Lattice.Grips(e - 2)[path[e-2]]
		}
		if e > 0 {
			b = x.Lattice.Grips(e - 1)[path[e-1]]
			change := make([]int32, x.Lattice.Count(e-1)*x.Lattice.Count(e))
			x.Lattice.AddChanges(e, lattice.ChangeOnHeldKey, change)
			sum += int64(change[path[e-1]*x.Lattice.Count(e)+g])
		}
		m.Explain(e, a, b, x.Lattice.Grips(e)[g], func(_ int, _ string, c int32) { sum += int64(c) })
		sum += int64(x.Lattice.Hard(e)[g])
	}
	// Both round to 1/4096 nat, Explain entry by entry.
	require.InDelta(t, float64(cost), float64(sum), float64(len(path))*60)
}

// lost is the negative log-likelihood of the printed digits of a window.
func lost(g *segment, terms []float64) float64 {
	var c chain
	c.price(g, terms, nil)
	all, bound := 0.0, 0.0
	grips := make([]int, len(g.events))
	var walk func(e int, w float64, ok bool)
	walk = func(e int, w float64, ok bool) {
		if e == len(g.events) {
			all += w
			if ok {
				bound += w
			}
			return
		}
		n := len(g.events[e].grips)
		for k := range n {
			grips[e] = k
			i := k
			if e > 0 {
				i += n * grips[e-1]
			}
			if e > 1 {
				i += n * len(g.events[e-1].grips) * grips[e-2]
			}
			walk(e+1, w*c.weight[e][i], ok && (g.events[e].allowed == nil || g.events[e].allowed[k]))
		}
	}
	walk(0, 1, true)
	return math.Log(all) - math.Log(bound)
}

// A step goes downhill: with a tiny rate the loss, summed by brute force over all ways, falls.
func TestAStepGoesDownhill(t *testing.T) {
	s := settings()
	s.Habit, s.Margin, s.Labels = false, 1, 2
	start := effort.HandSet()
	p := effort.NewPricer(start, hand.NinthHand)
	tried := 0
	for seed := range 4 {
		x := study(seed)
		for _, g := range cut(x, p, &space{}, &s) {
			ways := 1
			for _, n := range g.events {
				ways *= len(n.grips)
			}
			if ways > 200_000 {
				continue
			}
			tr := &trainer{s: s, terms: newVector(int(effort.Terms), 1e-4, 0), habit: newVector(0, 0, 0)}
			for i, w := range start.Terms {
				tr.terms.w[i] = float64(w) / 1000
			}
			before := lost(&g, tr.terms.w)
			tr.step(&g)
			after := lost(&g, tr.terms.w)
			require.False(t, math.IsNaN(after))
			require.LessOrEqual(t, after, before+1e-9)
			tried++
		}
	}
	require.Greater(t, tried, 20)
}

func TestTheSameMaterialGivesTheSameTable(t *testing.T) {
	examples := []*Example{study(1), study(2)}
	a := Train(examples, effort.HandSet(), hand.NinthHand, settings()).Weights("x", 0.001)
	b := Train([]*Example{study(1), study(2)}, effort.HandSet(), hand.NinthHand, settings()).Weights("x", 0.001)
	require.Equal(t, a, b)
}
