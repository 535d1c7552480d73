package lattice

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score/playing"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// rolledLine is a chord of keys that are struck one after the other, the last one on the beat, then a single key.
func rolledLine(keys ...int) *Lattice {
	var notes []fingering.Note
	for i, k := range keys {
		n := fingering.Note{ID: i, Key: k, End: fingering.Moment{Num: 1, Den: 4}}
		if i+1 < len(keys) {
			n.Rank = playing.Rolled(i)
		}
		notes = append(notes, n)
	}
	notes = append(notes, fingering.Note{ID: len(keys), Key: 60, Onset: fingering.Moment{Num: 1, Den: 4}, End: fingering.Moment{Num: 1, Den: 2}})
	return New(fingering.NewLine(fingering.Right, notes, hand.NinthHand.Fits), hand.NinthHand)
}

// grip of one key.
func single(f fingering.Finger) fingering.Grip {
	return fingering.Grip{Fingers: [fingering.MaxKeys]fingering.Finger{f}}
}

func TestTheFingersOfARollLieInOrder(t *testing.T) {
	l := rolledLine(55, 60, 67, 76)
	require.False(t, l.RolledInto(0))
	require.True(t, l.RolledInto(1))
	require.True(t, l.RolledInto(3))
	require.False(t, l.RolledInto(4), "the chord is over")
	require.Zero(t, l.RollPrice(1, single(1), single(2)))
	require.EqualValues(t, acrossRoll, l.RollPrice(1, single(2), single(1)), "the higher key by the lower finger")
	require.EqualValues(t, acrossRoll, l.RollPrice(1, single(1), single(1)), "one finger on two keys")
	require.Zero(t, l.RollPrice(2, single(2), single(4)), "a fifth by 2 and 4")
	require.Zero(t, l.RollPrice(2, single(3), single(4)), "a fifth by 3 and 4, which span 60 mm: the hand turns")
	require.EqualValues(t, tornInRoll, l.RollPrice(3, single(3), single(4)), "a sixth")
	require.Zero(t, l.RollPrice(3, single(1), single(2)), "the thumb reaches anywhere")

	down := rolledLine(76, 67, 60)
	require.Zero(t, down.RollPrice(1, single(5), single(3)))
	require.EqualValues(t, acrossRoll, down.RollPrice(1, single(3), single(5)))

	wide := rolledLine(48, 52, 55, 60, 64, 67)
	require.False(t, wide.RolledInto(1), "more keys than fingers")
}

// Both passes charge it: the cheapest way and that of most agreement keep the order, whatever the model likes better.
func TestARollIsInOrderWhateverTheModelLikes(t *testing.T) {
	l := rolledLine(55, 60, 67, 76)
	var work Workspace
	priced := work.Price(l, &arbitrary{l: l, seed: 7})
	cheapest, _ := priced.Forward().Cheapest()
	gain := make([]int64, l.Total())
	for e := range 4 {
		gain[e*fingering.Fingers] = Agreement // an editor would print the thumb on every key
	}
	for _, path := range [][]int{cheapest, priced.MostAgreement(gain, nil)} {
		for e := 1; e < 4; e++ {
			require.Less(t, path[e-1], path[e], "%v", path)
		}
	}
}
