package effort

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/hand"
)

// A joint that lint would warn of loses in the decode, its like beside it does not.
func TestFaultsOfALine(t *testing.T) {
	slur, plain := lineJoint{slurred: true}, lineJoint{}
	pedal := lineJoint{slurred: true, pedalled: true}
	const c5, d5, e5, g5, c6, cs5 = 72, 74, 76, 79, 84, 73
	for _, at := range []struct {
		why        string
		t          joined
		line       lineJoint
		f, g, want int
	}{
		{"one finger on two keys under a slur", joined{a: c5, b: g5, micros: 500_000}, slur, 2, 2, faultLoses},
		{"it goes on to another", joined{a: c5, b: g5, micros: 500_000}, slur, 2, 4, 0},
		{"one finger on a step of a run, no slur", joined{a: e5, b: d5, micros: 250_000}, plain, 3, 3, faultLoses},
		{"… slowly", joined{a: e5, b: d5, micros: 500_000}, plain, 3, 3, 0},
		{"… let go between", joined{a: e5, b: d5, micros: 250_000, parted: true}, plain, 3, 3, 0},
		{"it slides from a black key to its neighbour", joined{a: cs5, b: c5, micros: 250_000}, slur, 2, 2, 0},
		{"the thumb glides under what the hand holds", joined{a: c5, b: d5, micros: 500_000, held: true}, slur, 1, 1, 0},
		{"… not where it holds nothing", joined{a: c5, b: d5, micros: 500_000}, slur, 1, 1, faultLoses},
		{"the pedal joins leaps of the fifth finger", joined{a: c5, b: g5, micros: 500_000}, pedal, 5, 5, 0},
		{"… not of the thumb", joined{a: c5, b: g5, micros: 500_000}, pedal, 1, 1, faultLoses},
		{"a finger passes over the thumb by a fourth", joined{a: g5, b: d5, micros: 500_000}, slur, 1, 3, 0},
		{"… not by a fifth", joined{a: g5, b: c5, micros: 500_000}, slur, 1, 3, faultLoses},
		{"… but for the pedal", joined{a: g5, b: c5, micros: 500_000}, pedal, 1, 3, 0},
		{"4 over 5 by a tone", joined{a: c5, b: d5, micros: 500_000}, slur, 5, 4, 0},
		{"… not by a third", joined{a: c5, b: e5, micros: 500_000}, slur, 5, 4, faultLoses},
		{"3 and 4 on an octave under a slur", joined{a: c5, b: c6, micros: 500_000}, slur, 3, 4, faultLoses},
		{"… by the pedal", joined{a: c5, b: c6, micros: 500_000}, pedal, 3, 4, 0},
		{"the octave by thumb and fifth", joined{a: c5, b: c6, micros: 500_000}, slur, 1, 5, 0},
	} {
		require.Equal(t, at.want, at.t.fault(hand.NinthHand, at.line, at.f, at.g), at.why)
	}
	require.True(t, CrossTooFar(c5, g5, 3, 2))
	require.False(t, CrossTooFar(c5, g5, 2, 3), "in order")
	require.False(t, CrossTooFar(c5, d5, 3, 1), "the thumb passes under")
}
