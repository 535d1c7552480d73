package unlikelyfinger

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"

	"github.com/stretchr/testify/require"
)

// A digit that was keyed in may be a slip; one that an editor took as the program suggested it is none (common sense).
func TestWhatWasTakenAsSuggestedIsNoSlip(t *testing.T) {
	ninth, err := hand.Named("ninth")
	require.NoError(t, err)
	found := func(taken ...bool) int {
		s, hands := &score.Score{Measures: []score.Measure{{Number: "1", Length: score.Whole(4)}}}, playing.Hands{}
		for i, key := range []int{60, 62, 64, 65} {
			s.Notes = append(s.Notes, score.Note{
				Midi: key, Onset: score.Whole(int64(i)), Duration: score.Whole(1), TiedFrom: -1, TiedTo: -1,
			})
			hands.Piano, hands.Hand, hands.Player = append(hands.Piano, true), append(hands.Hand, score.Right), append(hands.Player, 0)
		}
		p := &lint.Inspection{
			Score: s, Playing: playing.New(s, hands), Finger: []int{1, 2, 2, 4}, Given: []int{1, 2, 2, 4}, Taken: taken, Profile: ninth,
			Unbound: &lint.Unbound{Finger: []int{1, 2, 3, 4}, Cost: []int{0, 0, 5000, 0}, FreeCost: []int{0, 0, 0, 0}},
		}
		return len(lint.Run(p, []*lint.Rule{Rule}, nil))
	}
	require.Equal(t, 1, found())
	require.Equal(t, 1, found(true, false, false, false), "the pair was keyed in")
	require.Zero(t, found(false, false, true, false))
	require.Zero(t, found(false, true, false, false))
}
