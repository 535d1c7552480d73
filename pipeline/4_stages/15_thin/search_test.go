package thin

import (
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
		out: make([]bool, n), why: make([]Why, n), kept: make([]bool, n), parts: make([][][]int, n), extra: make([]int, n)}
	for e := range n {
		finger := rapid.IntRange(1, 5).Draw(t, "finger")
		p.in.Finger = append(p.in.Finger, finger)
		p.line = append(p.line, event{notes: []int{e}, keys: []int{rapid.IntRange(60, 70).Draw(t, "key")}, fingers: []int{finger}})
		p.wanted = append(p.wanted, []int{rapid.IntRange(-2000, 2000).Draw(t, "wanted")})
		p.copies, p.figures = append(p.copies, -1), append(p.figures, -1)
	}
	standing(p)
	readAlike(p)
	return p
}

// readAlike has a planner read its line.
func readAlike(p *planner) {
	p.reading = played(p.line, p.in.Style.Digits)
	p.preface = p.reading.preface
	if p.memory = wholeMemory(p.in, p.line); p.memory != nil {
		p.reading.memory = p.memory
	}
}

// Every digit that is worth its price is printed, and no other.
func TestWhatIsWorthItsPriceIsPrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := searched(t)
		p.in.Style.Density = rapid.IntRange(0, 100).Draw(t, "density")
		p.printWanted()
		for e := range p.line {
			require.Equal(t, p.value(e, 0) > priceOf(p.in.Style.Density), p.out[e])
		}
	})
}

// Of a chord those digits are printed that are worth most together and say which keys they mean.
func TestTheDigitsOfAChordThatAreWorthMost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := searched(t)
		p.line, p.in.Score.Notes = p.line[:1], make([]score.Note, 3)
		p.line[0] = event{notes: []int{0, 1, 2}, keys: []int{60, 64, 67}, fingers: []int{1, 3, 5}}
		p.in.Finger, p.in.Stands, p.out, p.why, p.kept = []int{1, 3, 5}, make([]bool, 3), make([]bool, 3), make([]Why, 3), make([]bool, 3)
		p.wanted[0] = []int{rapid.IntRange(-2000, 2000).Draw(t, "a"), rapid.IntRange(-2000, 2000).Draw(t, "b"), rapid.IntRange(-2000, 2000).Draw(t, "c")}
		p.parts, p.extra = make([][][]int, 1), make([]int, 1)
		standing(p)
		p.in.Style.Density = rapid.IntRange(1, 100).Draw(t, "density")
		price, most := priceOf(p.in.Style.Density), 0
		clear := [][]int{{0, 1, 2}}
		if !p.doubtful(0) {
			clear = append(clear, []int{2}) // a lone digit is the outermost key's, where it says enough
		}
		for _, set := range clear {
			sum := 0
			for _, k := range set {
				sum += p.value(0, k) - price
			}
			most = max(most, sum)
		}
		p.printWanted()
		sum := 0
		for k := range 3 {
			if p.out[k] {
				sum += p.value(0, k) - price
			}
		}
		require.Equal(t, most, sum)
	})
}

func TestHowLikelyADigitIs(t *testing.T) {
	// The logistic function at 0, 1, 2, 4 nats: 1/(1+e^-x).
	for odds, want := range map[int]int{0: 500, 1000: 731, 2000: 881, 4000: 982, -1000: 269, 250: 561, 99000: 1000, -99000: 0} {
		require.Equal(t, want, likely(odds), odds)
	}
}

// What a digit costs goes by the density that is asked for, and by nothing else: the denser, the cheaper; at a hundred all are
// worth it, where none is asked for none.
func TestThePriceGoesByTheDensityAlone(t *testing.T) {
	require.Equal(t, dearest+decides, priceOf(0))
	for density := 1; density <= 100; density++ {
		require.Less(t, priceOf(density), priceOf(density-1))
	}
	require.Less(t, priceOf(100), -1000-decides, "what a figure repeats is worth so little")
}
