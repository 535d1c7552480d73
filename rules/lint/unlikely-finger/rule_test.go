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
	// inspect gives four notes rising by step, of which the second and the third have digits that cost much.
	inspect := func(second int, taken []bool) *lint.Inspection {
		s, hands := &score.Score{Measures: []score.Measure{{Number: "1", Length: score.Whole(4)}}}, playing.Hands{}
		for i, key := range []int{60, 62, 64, 65} {
			s.Notes = append(s.Notes, score.Note{
				Midi: key, Onset: score.Whole(int64(i)), Duration: score.Whole(1), TiedFrom: -1, TiedTo: -1,
			})
			hands.Piano, hands.Hand, hands.Player = append(hands.Piano, true), append(hands.Hand, score.Right), append(hands.Player, 0)
		}
		f := []int{1, 2, 2, 4}
		if second > 2 {
			f = []int{1, second, second - 1, 4}
		}
		return &lint.Inspection{
			Score: s, Playing: playing.New(s, hands), Finger: f, Given: f, Taken: taken, Profile: ninth,
			Unbound: &lint.Unbound{Finger: []int{1, 2, 3 - second/4, 4}, Cost: []int{0, 0, 5000, 0}, FreeCost: []int{0, 0, 0, 0}},
		}
	}
	found := func(taken ...bool) int {
		return len(lint.Run(inspect(2, taken), []*lint.Rule{Rule}, nil))
	}
	require.Equal(t, 1, found())
	require.Equal(t, 1, found(true, false, false, false), "the pair was keyed in")
	require.Zero(t, found(false, false, true, false))
	require.Zero(t, found(false, true, false, false))

	crossed := func(decided [][]int, taken ...bool) int {
		p := inspect(4, taken)
		p.Decided = decided
		return len(lint.Run(p, []*lint.Rule{Rule}, nil))
	}
	byEditor := [][]int{nil, {4}, {3}, nil}
	require.Equal(t, 1, crossed(byEditor, false, false, true, false), "an editor changed the finger beside it, and the two cross")
	require.Zero(t, crossed(byEditor, false, true, true, false))
	require.Zero(t, crossed(nil, false, false, true, false), "nobody decided the other")
}

// What the hand would do without digits is asked for about pairs of which one is given and which are odd by themselves, be the
// other given or only suggested.
func TestOnlyOddDigitsAreLookedInto(t *testing.T) {
	ninth, err := hand.Named("ninth")
	require.NoError(t, err)
	suspects := func(fingers, given [4]int) []int {
		s, hands := &score.Score{Measures: []score.Measure{{Number: "1", Length: score.Whole(4)}}}, playing.Hands{}
		for i, key := range []int{60, 62, 64, 65} {
			s.Notes = append(s.Notes, score.Note{Midi: key, Onset: score.Whole(int64(i)), Duration: score.Whole(1), TiedFrom: -1, TiedTo: -1})
			hands.Piano, hands.Hand, hands.Player = append(hands.Piano, true), append(hands.Hand, score.Right), append(hands.Player, 0)
		}
		return Suspects(&lint.Inspection{Score: s, Playing: playing.New(s, hands), Finger: fingers[:], Given: given[:], Profile: ninth})
	}
	require.Empty(t, suspects([4]int{1, 2, 3, 4}, [4]int{1, 2, 3, 4}))
	require.Equal(t, []int{1, 2}, suspects([4]int{1, 2, 2, 4}, [4]int{1, 2, 2, 4}))
	require.Equal(t, []int{1, 2}, suspects([4]int{1, 2, 2, 4}, [4]int{0, 0, 2, 0}), "were the other taken, both would stand")
	require.Empty(t, suspects([4]int{1, 2, 2, 4}, [4]int{1, 0, 0, 4}), "only suggested")
	require.Equal(t, []int{1, 2}, suspects([4]int{1, 4, 2, 5}, [4]int{0, 4, 2, 0}), "they cross")
}
