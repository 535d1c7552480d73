package suggest_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/06_hands"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/policies"
	"fingerproof/rules/effort"
	"fingerproof/rules/hand"

	"github.com/stretchr/testify/require"
)

// What the hand would do about a digit is, where nothing is remembered, what a search of the whole piece without its digits comes
// to there; far from it nothing is said.
func TestWhatTheHandWouldDoAboutADigitIsLocal(t *testing.T) {
	const notes, at = 240, 120
	dice := rand.New(rand.NewPCG(1, 2))
	line, key := "", 3
	for i := range notes {
		key = min(max(key+dice.IntN(5)-2, 0), 6)
		digit := ""
		if i == at || i == at+1 {
			digit = fmt.Sprintf(fingering, 2)
		}
		line += note(fmt.Sprintf("%c5", "CDEFGAB"[key]), 1, 1, 1, digit)
	}
	s := piano(t, line)
	p, err := policies.Default().Setting(map[string]string{"aims.memory": "0"})
	require.NoError(t, err)
	whose, err := attribute.Whose(s, score.Composer)
	require.NoError(t, err)
	h, err := hands.Assign(s, hands.Scoring{Kind: "two hands"})
	require.NoError(t, err)
	pace := tempo.Find(tempo.Input{Score: s, Policy: p})
	in := suggest.Input{Score: s, Whose: whose, Playing: playing.New(s, *h), Tempo: &pace, Policy: p, Profile: hand.NinthHand, Weights: effort.Delivered()}
	about := suggest.FreeAbout(in, []int{at})
	in.Free, in.Bare = true, true
	whole := suggest.Suggest(in)
	require.Len(t, about, notes)
	for n := range notes {
		if n < at-32 || n > at+32 {
			require.Zero(t, about[n].Finger, "note %d", n)
			continue
		}
		require.Equal(t, whole.Notes[n].Finger, about[n].Finger, "note %d", n)
		require.Equal(t, whole.Notes[n].Effort, about[n].Effort, "note %d", n)
		require.Zero(t, about[n].Given)
	}
	require.NotEqual(t, about[at].Finger, about[at+1].Finger, "the digits bind nothing")
}
