package engine

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/fingering/written"
	"fingerproof/rules/hand"
)

func practised(notes []fingering.Note, percent int) Result {
	return Finger(fingering.Right, hand.NinthHand, effort.Delivered(), notes, Options{
		Decode: Cheapest, PracticePercent: percent, Aims: effort.PlainAims(),
	})
}

// withoutNetwork are plain aims without the network: what holds in practice is told without it.
func withoutNetwork() effort.Aims {
	a := effort.PlainAims()
	a.NoLearned = true
	return a
}

// taken is what fingers cost that are given to every note.
func taken(notes []fingering.Note, fingers []fingering.Finger) int {
	given := slices.Clone(notes)
	for i := range given {
		given[i].Allowed = fingering.Only(fingers[i])
	}
	return Finger(fingering.Right, hand.NinthHand, unremembered(), given, Options{
		Decode: Cheapest, Aims: withoutNetwork(),
	}).Total
}

// unremembered is the shipped table without the reward of given digits, which tests give where nobody else would.
func unremembered() *effort.Weights {
	w := *effort.Delivered()
	for t := range effort.Terms {
		if strings.HasPrefix(t.Name(), "digit given") {
			w.Terms[t] = 0
		}
	}
	return &w
}

// One finger on one key again and again is best in practice (200 ms between strokes) and not at the tempo (100 ms):
// the passage is told with what it costs more at the tempo and less in practice, each held against those fingers
// themselves.
func TestWhatIsBestInPracticeAndCollapses(t *testing.T) {
	const keys = "c5 d5 e5 g5 g5 g5 g5 g5 g5 g5 g5 e5 d5 c5"
	quick := written.Notes(keys, 100_000)
	r := Finger(fingering.Right, hand.NinthHand, effort.Delivered(), quick, Options{
		Decode: Cheapest, PracticePercent: 50, Aims: withoutNetwork(),
	})
	require.Len(t, r.Collapses, 1)
	asked := practised(quick, 50).Collapses
	require.Equal(t, r.Collapses, asked, "what the network says changes no account of practice")
	c := r.Collapses[0]
	own, easy := []fingering.Finger{}, []fingering.Finger{}
	for _, n := range r.Notes {
		own = append(own, n.Finger)
	}
	easy = append(easy, own...)
	for _, s := range c.Steps {
		require.NotEqual(t, own[s.ID], s.Finger, "only what differs")
		easy[s.ID] = s.Finger
	}
	require.InDelta(t, taken(quick, easy)-taken(quick, own), c.Excess, 5)
	slow := written.Notes(keys, 200_000)
	require.InDelta(t, taken(slow, own)-taken(slow, easy), c.Saving, 5)
	require.GreaterOrEqual(t, c.Excess, 2000)
	require.GreaterOrEqual(t, c.Saving, 250)
	for _, percent := range []int{0, 100, 150, -5} {
		require.Empty(t, practised(quick, percent).Collapses, "%d percent is no tempo of practice", percent)
	}
	without := effort.PlainAims()
	without.Tempo = 0
	require.Empty(
		t,
		Finger(fingering.Right, hand.NinthHand, effort.Delivered(), quick, Options{
			PracticePercent: 50, Aims: without,
		}).Collapses,
		"tempo does not count",
	)
	require.Empty(t, practised(written.Notes(keys, 0), 50).Collapses, "no tempo is known")
	require.Empty(t, practised(written.Notes(keys, 250_000), 50).Collapses, "nothing is fast")
}

// Passages are told one by one, in their order.
func TestPassagesThatCollapseAreToldInOrder(t *testing.T) {
	between := strings.Repeat(" e5 d5 c5 d5 e5 f5", 4)
	r := practised(written.Notes("g5 g5 g5 g5 g5 g5"+between+" c5 c5 c5 c5 c5 c5"+between, 100_000), 50)
	require.Len(t, r.Collapses, 2)
	require.Less(t, r.Collapses[0].Steps[len(r.Collapses[0].Steps)-1].ID, 6+4)
	require.Greater(t, r.Collapses[1].Steps[0].ID, 6+20)
}

// Nothing is told that is a matter of taste, and no passage twice.
func TestNoCollapseIsAMatterOfTaste(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var keys []string
		for range rapid.IntRange(2, 14).Draw(t, "strokes") {
			keys = append(keys, rapid.SampledFrom([]string{"c5", "c5", "c5", "d5", "e5", "c6", "c5+e5"}).Draw(t, "key"))
		}
		notes := written.Notes(
			strings.Join(keys, " "), rapid.SampledFrom([]int64{60_000, 100_000, 240_000, 260_000}).Draw(t, "micros"),
		)
		for i := range notes {
			if rapid.IntRange(0, 2).Draw(t, "given") == 0 {
				notes[i].Allowed = fingering.Only(fingering.Finger(rapid.IntRange(1, 5).Draw(t, "digit")))
			}
		}
		seen := map[int]bool{}
		for _, c := range practised(notes, 60).Collapses {
			require.GreaterOrEqual(t, c.Excess, 2000)
			require.GreaterOrEqual(t, c.Saving, 250)
			require.NotEmpty(t, c.Steps)
			for _, s := range c.Steps {
				require.False(t, seen[s.ID], "note %d stands in two passages", s.ID)
				seen[s.ID] = true
			}
		}
	})
}

// A line is fast where two strokes follow each other within a quarter of a second; what is struck at one moment does
// not count.
func TestWhatIsFast(t *testing.T) {
	timed := func(micros ...int64) *fingering.Line {
		notes := written.Notes(strings.TrimSpace(strings.Repeat("c5 ", len(micros))), 0)
		for i := range notes {
			notes[i].Micros = micros[i]
		}
		return fingering.NewLine(fingering.Right, notes, hand.NinthHand.Fits)
	}
	require.True(t, fast(timed(0, 249_999)))
	require.True(t, fast(timed(0, 400_000, 800_000, 900_000)))
	require.True(t, fast(timed(500_000, 600_000, 1_000_000)))
	require.False(t, fast(timed(0, 250_000, 500_000)))
	require.False(
		t, fast(timed(300_000, 300_000, 900_000)), "two strokes of one moment, such as a grace note and its note",
	)
	require.Equal(t, int64(200_000), slower(timed(0, 100_000), 50).Events[1].Micros)
	line := timed(0, 100_000)
	slower(line, 50)
	require.Equal(t, int64(100_000), line.Events[1].Micros, "the line itself stays")
}
