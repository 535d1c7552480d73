package stet

import (
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/lint"

	"github.com/stretchr/testify/require"
)

// What was let stand of a grip that no fingers take stands when its digits are decided, and the same grip has another
// rule's name; elsewhere, and for the other hand, it says nothing.
func TestAGripThatWasLetStandStands(t *testing.T) {
	s := &score.Score{Measures: make([]score.Measure, 2)}
	hands := playing.Hands{}
	for _, n := range []struct {
		measure int
		onset   int64
		hand    score.Hand
	}{{0, 0, score.Left}, {0, 0, score.Left}, {0, 1, score.Left}, {0, 0, score.Right}, {1, 0, score.Left}} {
		s.Notes = append(s.Notes, score.Note{Kind: score.Pitched, Midi: 40 + 5*len(s.Notes), Measure: n.measure,
			Onset: score.Whole(n.onset), TiedFrom: -1, TiedTo: -1})
		hands.Piano, hands.Hand, hands.Player = append(hands.Piano, true), append(hands.Hand, n.hand), append(hands.Player, 0)
	}
	in := Input{Score: s, Playing: playing.New(s, hands)}
	let := &decide.FindingStet{Decision: &decision.Decision{Rule: "grip-out-of-reach"}, Notes: []int{0}}
	span := func(hand score.Hand, notes ...int) *lint.Finding {
		return &lint.Finding{Rule: "span-beyond-hand", Notes: notes, Hand: hand, Measure: s.Notes[notes[0]].Measure}
	}
	require.True(t, sameGrip(in, let, span(score.Left, 0, 1)))
	require.True(t, sameGrip(in, let, span(score.Left, 1)))
	require.False(t, sameGrip(in, let, span(score.Left, 2)), "a later moment")
	require.False(t, sameGrip(in, let, span(score.Right, 3)), "the other hand")
	require.False(t, sameGrip(in, let, span(score.Left, 4)), "another measure")
	later := &lint.Finding{Rule: "grip-out-of-reach", Notes: []int{2}, Hand: score.Left}
	require.False(t, sameGrip(in, let, later), "another grip")
	other := &lint.Finding{Rule: "finger-on-two-keys", Notes: []int{0}, Hand: score.Left}
	require.False(t, sameGrip(in, let, other), "another fault")
}

// A grip that no fingers take was let stand: what the hand cannot take either while it holds the same keys on stands with
// it, and no grip after they are let go.
func TestAGripThatIsHeldOnStands(t *testing.T) {
	s := &score.Score{Measures: make([]score.Measure, 1)}
	hands := playing.Hands{}
	for _, n := range [][2]int64{{0, 4}, {1, 1}, {2, 1}, {4, 4}, {5, 1}} { // onset, duration
		s.Notes = append(s.Notes, score.Note{Kind: score.Pitched, Midi: 40 + 9*len(s.Notes), Onset: score.Whole(n[0]),
			Duration: score.Whole(n[1]), TiedFrom: -1, TiedTo: -1})
		hands.Piano, hands.Hand, hands.Player = append(hands.Piano, true), append(hands.Hand, score.Left), append(hands.Player, 0)
	}
	in := Input{Score: s, Playing: playing.New(s, hands)}
	let := &decide.FindingStet{Decision: &decision.Decision{Rule: "grip-out-of-reach"}, Notes: []int{1}}
	found := func(n int) *lint.Finding {
		return &lint.Finding{Rule: "grip-out-of-reach", Notes: []int{n}, Hand: score.Left}
	}
	require.True(t, sameGrip(in, let, found(2)))
	require.False(t, sameGrip(in, let, found(4)))
}
