package reachbelowshare

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/rules/lint"

	"github.com/stretchr/testify/require"
)

// A tenth from the thumb to the fifth finger, asked of nine pianists in ten: 13 in a hundred women and 76 in a
// hundred men reach it (FACTS §1.2, derived). Now the grip as a whole is out of reach besides, because of another key
// that is held.
func TestDigitsThatStandCountWhereTheGripIsOutOfReach(t *testing.T) {
	inspect := func(given bool, reason string) *lint.Inspection {
		s := &score.Score{
			Notes:    []score.Note{{Midi: 60, TiedFrom: -1, TiedTo: -1}, {Midi: 76, TiedFrom: -1, TiedTo: -1}},
			Measures: []score.Measure{{Number: "1"}},
		}
		right := playing.Hands{
			Piano: []bool{true, true}, Hand: []score.Hand{score.Right, score.Right}, Player: []int{0, 0},
		}
		p := &lint.Inspection{
			Score:    s,
			Playing:  playing.New(s, right),
			Finger:   []int{1, 5},
			Given:    []int{0, 0},
			Reason:   []string{reason, ""},
			FitsHand: func(score.Hand, int, int, int, int) bool { return true },
			Options:  lint.Options{ReachShare: 90},
		}
		if given {
			p.Given = []int{1, 5}
		}
		return p
	}
	for _, c := range []struct {
		given    bool
		reason   string
		findings int
	}{
		{false, "", 1},             // worked out, and the hand takes it
		{true, "", 1},              // stands in the text
		{true, "held besides", 1},  // stands in the text, with a key held that makes it too wide
		{false, "held besides", 0}, // a makeshift: another rule speaks of it
	} {
		found := lint.Run(inspect(c.given, c.reason), []*lint.Rule{Rule}, nil)
		require.Len(t, found, c.findings, "%+v", c)
	}
}
