package state

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// A note written by hand is what encoding/json writes of it, or it is left to that.
func TestNotesAreWrittenAsJSON(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	texts := []string{"", "", "1", "F#4", "a b", "~", "<&>'"}
	odd := []string{"ä", `"`, `\`, "\n", "\x7f", "\u2028"}
	rare := func() bool { return rng.IntN(60) == 0 }
	text := func() string {
		if rare() {
			return odd[rng.IntN(len(odd))]
		}
		return texts[rng.IntN(len(texts))]
	}
	number := func() int { return max(rng.IntN(3000)-1500, rng.IntN(2)) }
	numbers := func() (out []int) {
		for range rng.IntN(3) {
			out = append(out, number())
		}
		return out
	}
	percent := func() *Percent {
		p := Percent(rng.IntN(120) - 10)
		return []*Percent{nil, &p}[rng.IntN(2)]
	}
	written := 0
	for range 20_000 {
		n := Note{
			N: number(), Part: text(), Measure: text(), MeasureIndex: number(), Onset: score.Frac(int64(rng.IntN(40)), int64(1+rng.IntN(12))),
			Grace: number(), Staff: number(), Voice: text(), Pitch: text(), Midi: number(), Hand: score.Hand(rng.IntN(3)), Finger: number(),
			Fingers: numbers(), Substitution: numbers(), Tied: rng.IntN(2) == 0, Touch: text(), OutOfReach: text(), Beside: number(),
			Second: number(), SecondFor: text(), Draft: text(), Printed: rng.IntN(2) == 0, Responsibility: score.Responsibility(rng.IntN(5)),
			Agent: text(), CostsMore: number(), Confidence: percent(), Reach: percent(),
		}
		for range rng.IntN(3) {
			n.Effort = append(n.Effort, Share{[]string{"stretch", "keys", "line"}[rng.IntN(3)], int64(number())})
			n.Alternatives = append(n.Alternatives, Alternative{number(), number()})
		}
		if rare() {
			n.Source = append(n.Source, Source{Text: text()})
		}
		var want bytes.Buffer
		require.NoError(t, marshalTo(&want, &n))
		if have, ok := appendNote(nil, &n); ok {
			written++
			require.Equal(t, want.String(), string(have))
		}
	}
	require.Greater(t, written, 10_000)
}
