package thin

import (
	"slices"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/rules/hand"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// searched makes a planner over single notes that want a digit more or less; nothing stands.
func searched(t *rapid.T) *planner {
	n := rapid.IntRange(1, 8).Draw(t, "events")
	p := &planner{in: Fingered{Score: &score.Score{Notes: make([]score.Note, n)}, Stands: make([]bool, n), Profile: hand.NinthHand,
		Style: Style{Digits: rapid.SampledFrom([]string{"performance", "none"}).Draw(t, "digits"), Chords: "needed"}},
		out: make([]bool, n), why: make([]Why, n), kept: make([]bool, n), parts: make([][][]int, n), extra: make([]int, n),
		moving: make([]bool, n), turning: make([]bool, n), breaking: make([]bool, n)}
	for e := range n {
		finger := rapid.IntRange(1, 5).Draw(t, "finger")
		p.in.Finger = append(p.in.Finger, finger)
		p.line = append(p.line, event{notes: []int{e}, keys: []int{rapid.IntRange(60, 70).Draw(t, "key")}, fingers: []int{finger}})
		p.wanted = append(p.wanted, []int{rapid.IntRange(-2000, 2000).Draw(t, "wanted")})
		p.copies, p.figures = append(p.copies, -1), append(p.figures, -1)
		if e > 0 {
			p.moving[e], p.breaking[e] = p.moves(e), p.breaks(e)
		}
	}
	standing(p)
	p.memory = wholeMemory(p.in, p.line, nil)
	if p.memory != nil {
		p.memory.figures, p.memory.like = make([]int, n), make([]int, n)
		for e := range n {
			p.memory.figures[e] = max(-1, e-3)
			if e < 3 {
				p.memory.figures[e] = -1
			}
			if p.memory.like[e] = -1; e >= 4 && rapid.Bool().Draw(t, "like") {
				p.memory.like[e] = e - 4
			}
		}
	}
	p.passes = newPasses(p.line, p.memory)
	return p
}

// costHere is what the printed digits cost at a price, those that stand unseemly included; −1 where the reader goes wrong.
func costHere(p *planner, price int) int {
	known := make([][]int, len(p.line))
	for e := range known {
		known[e] = p.known(e)
	}
	for e, fingers := range p.memory.decode(p.line, 0, len(p.line), known) {
		if !slices.Equal(fingers, p.line[e].fingers) {
			return -1
		}
	}
	sum, shown := 0, -1
	for e := range p.line {
		if p.out[e] {
			sum += price - p.value(e, 0) + p.unseemly(shown, e, price)
			shown = e
		}
	}
	return sum + 1<<20 // never below 0
}

// Brute force over all sets of digits is the oracle: none from which the reader finds the fingering is worth more.
func TestTheBestSetOfDigitsIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := searched(t)
		price := rapid.IntRange(0, dearest).Draw(t, "price")
		best := -1
		for set := range 1 << len(p.line) {
			for e := range p.line {
				p.out[e] = set>>e&1 == 1
			}
			if c := costHere(p, price); c >= 0 && (best < 0 || c < best) {
				best = c
			}
		}
		clear(p.out)
		p.printBest(price)
		require.Equal(t, best, costHere(p, price))
	})
}

// Without digits in a chord on the way the reader may take it otherwise: some of its digits can do, and cost less than all.
func TestSomeDigitsOfAChordCanDo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := searched(t)
		at := rapid.IntRange(0, len(p.line)-1).Draw(t, "chord")
		n := len(p.in.Score.Notes)
		p.in.Score.Notes = append(p.in.Score.Notes, score.Note{})
		p.in.Stands, p.out, p.why, p.kept = append(p.in.Stands, false), append(p.out, false), append(p.why, 0), append(p.kept, false)
		e := &p.line[at]
		e.notes, e.keys = []int{at, n}, []int{e.keys[0], e.keys[0] + 9}
		e.fingers = []int{1, rapid.IntRange(2, 5).Draw(t, "upper")}
		p.in.Finger[at], p.in.Finger = 1, append(p.in.Finger, e.fingers[1])
		p.wanted[at] = []int{p.wanted[at][0], rapid.IntRange(-2000, 2000).Draw(t, "wanted")}
		standing(p)
		if p.memory = wholeMemory(p.in, p.line, nil); p.memory != nil {
			p.memory.figures = nil
		}
		p.passes = newPasses(p.line, p.memory)
		p.printBest(rapid.IntRange(0, dearest).Draw(t, "price"))
		known := make([][]int, len(p.line))
		for e := range known {
			known[e] = p.known(e)
		}
		for e, fingers := range p.memory.decode(p.line, 0, len(p.line), known) {
			require.Equal(t, p.line[e].fingers, fingers, "event %d", e)
		}
		for _, g := range p.voices(at) {
			require.False(t, p.unclear(at, g))
		}
	})
}

func TestHowLikelyADigitIs(t *testing.T) {
	// The logistic function at 0, 1, 2, 4 nats: 1/(1+e^-x).
	for odds, want := range map[int]int{0: 500, 1000: 731, 2000: 881, 4000: 982, -1000: 269, 250: 561, 99000: 1000, -99000: 0} {
		require.Equal(t, want, likely(odds), odds)
	}
}

// What a digit costs goes by the density that is asked for, and by nothing else: the denser, the cheaper; at a hundred all are
// worth it, at none none costs more than the surest is worth.
func TestThePriceGoesByTheDensityAlone(t *testing.T) {
	require.Equal(t, dearest, priceOf(0))
	for density := 1; density <= 100; density++ {
		require.Less(t, priceOf(density), priceOf(density-1))
	}
	require.Less(t, priceOf(100), -1000-decides, "what a figure repeats is worth so little")
}
