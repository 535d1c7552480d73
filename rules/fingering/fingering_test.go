package fingering

import (
	"math/big"
	"testing"

	"fingerproof/corpus/score/playing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func anything(low, high int) bool { return true }

func at(quarters int64) Moment { return Moment{Num: quarters, Den: 1} }

func TestMomentsCompareExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Moment{Num: rapid.Int64Range(-1<<62, 1<<62).Draw(t, "a"), Den: rapid.Int64Range(1, 1<<62).Draw(t, "b")}
		b := Moment{Num: rapid.Int64Range(-1<<62, 1<<62).Draw(t, "c"), Den: rapid.Int64Range(1, 1<<62).Draw(t, "d")}
		require.Equal(t, big.NewRat(a.Num, a.Den).Cmp(big.NewRat(b.Num, b.Den)), a.Compare(b))
	})
	require.Zero(t, Moment{}.Compare(Moment{Num: 0, Den: 7}))
}

func TestMirrorIsItsOwnInverse(t *testing.T) {
	for k := range 128 {
		require.Equal(t, k, Left.Mirror(Left.Mirror(k)))
		require.Equal(t, k, Right.Mirror(k))
	}
	require.Equal(t, 62, Left.Mirror(62))
}

func TestMasks(t *testing.T) {
	require.True(t, Only(3).Has(3))
	require.False(t, Only(3).Has(2))
	require.Equal(t, AnyFinger, Only(0))
	require.False(t, AnyFinger.Has(0))
	require.False(t, AnyFinger.Has(6))
	_, err := ParseHand("both")
	require.Error(t, err)
}

// keys lists an event's keys, the held ones negative.
func keys(e Event) (out []int) {
	for _, k := range e.Keys {
		if k.Struck {
			out = append(out, int(k.Key))
		} else {
			out = append(out, -int(k.Key))
		}
	}
	return out
}

func TestHeldKeysStandBesideStruckOnes(t *testing.T) {
	l := NewLine(
		Right,
		[]Note{{ID: 1, Key: 60, End: at(4)}, {ID: 2, Key: 67, End: at(1)}, {ID: 3, Key: 69, Onset: at(1), End: at(2)}},
		anything,
	)
	require.Len(t, l.Events, 2)
	require.Equal(t, []int{60, 67}, keys(l.Events[0]))
	require.Equal(t, []int{-60, 69}, keys(l.Events[1]))
	require.True(t, l.Events[1].Joined)
}

func TestOrderOfTheInputDoesNotMatter(t *testing.T) {
	a := []Note{{ID: 1, Key: 60, End: at(4)}, {ID: 2, Key: 67, End: at(1)}, {ID: 3, Key: 69, Onset: at(1), End: at(2)}}
	require.Equal(t, NewLine(Left, a, anything), NewLine(Left, []Note{a[2], a[0], a[1]}, anything))
}

func TestTiesAreFollowed(t *testing.T) {
	l := NewLine(
		Right,
		[]Note{
			{ID: 1, Key: 60, End: at(1)}, {ID: 2, Key: 60, Onset: at(1), End: at(3), Tied: true},
			{ID: 3, Key: 64, Onset: at(2), End: at(3)},
		},
		anything,
	)
	require.Len(t, l.Strikes, 2)
	require.Equal(t, []Tie{{ID: 2, Onset: at(1)}}, l.Strikes[0].Ties)
	require.Equal(t, []int{-60, 64}, keys(l.Events[1]))
}

func TestATieFromNothingIsStruck(t *testing.T) {
	l := NewLine(Right, []Note{{ID: 1, Key: 60, Onset: at(1), End: at(3), Tied: true}}, anything)
	require.Len(t, l.Strikes, 1)
}

func TestGraceNotesComeBeforeTheirNote(t *testing.T) {
	l := NewLine(
		Right,
		[]Note{
			{ID: 1, Key: 60, Onset: at(1), End: at(2)}, {ID: 2, Key: 62, Onset: at(1), Rank: playing.GraceNote(2)},
			{ID: 3, Key: 64, Onset: at(1), Rank: playing.GraceNote(1)},
		},
		anything,
	)
	require.Equal(t, []int{64}, keys(l.Events[0]))
	require.Equal(t, []int{62}, keys(l.Events[1]))
	require.Equal(t, []int{60}, keys(l.Events[2]))
	require.True(t, l.Events[2].Joined)
}

func TestDetachedKeysAreNotHeld(t *testing.T) {
	l := NewLine(
		Right, []Note{{ID: 1, Key: 60, End: at(4), Detached: true}, {ID: 2, Key: 64, Onset: at(1), End: at(2)}},
		anything,
	)
	require.Equal(t, []int{64}, keys(l.Events[1]))
	require.False(t, l.Events[1].Joined)
}

func TestAKeyStruckAgainEndsWhatHeldIt(t *testing.T) {
	l := NewLine(Right, []Note{{ID: 1, Key: 60, End: at(4)}, {ID: 2, Key: 60, Onset: at(1), End: at(2)}}, anything)
	require.Equal(t, []int{60}, keys(l.Events[1]))
}

func TestUnisonsAreOneStroke(t *testing.T) {
	l := NewLine(Right, []Note{{ID: 1, Key: 60, End: at(1), Allowed: Only(1)}, {ID: 2, Key: 60, End: at(2)}}, anything)
	require.Len(t, l.Strikes, 1)
	require.Equal(t, []int{1, 2}, l.Strikes[0].IDs)
	require.Equal(t, Only(1), l.Strikes[0].Allowed)
	l = NewLine(Right, []Note{{ID: 1, Key: 60, Allowed: Only(1)}, {ID: 2, Key: 60, Allowed: Only(4)}}, anything)
	require.True(t, l.Strikes[0].Contradiction)
}

func TestWhatTheHandCannotHoldIsLetGoFarthestFirst(t *testing.T) {
	l := NewLine(
		Right,
		[]Note{{ID: 1, Key: 40, End: at(4)}, {ID: 2, Key: 55, End: at(4)}, {ID: 3, Key: 64, Onset: at(1), End: at(2)}},
		func(low, high int) bool { return high-low <= 12 })
	require.Equal(t, []int{-55, 64}, keys(l.Events[1]))
	require.Equal(t, []int{0}, l.Events[1].Released)
}

func TestMoreKeysThanFingers(t *testing.T) {
	var notes []Note
	for i := range 8 {
		notes = append(notes, Note{ID: i, Key: 60 + i, End: at(1)})
	}
	l := NewLine(Right, notes, anything)
	require.Equal(t, []int{63, 64, 65, 66, 67}, keys(l.Events[0]))
	require.Equal(t, []int{0, 1, 2}, l.Events[0].Beyond)
}

// A change that stands at a struck note holds behind the stroke, though the note is tied on; one that stands at the tied
// note holds from there.
func TestAChangeHoldsBehindItsDigit(t *testing.T) {
	allowed := func(first, tied Finger) (out []Mask) {
		l := NewLine(Right, []Note{
			{ID: 1, Key: 60, End: at(1), Allowed: Only(1), Then: first},
			{ID: 2, Key: 60, Onset: at(1), End: at(3), Tied: true, Then: tied},
			{ID: 3, Key: 64, Onset: at(1), End: at(2)}, {ID: 4, Key: 65, Onset: at(2), End: at(3)},
		}, anything)
		for _, e := range l.Events {
			out = append(out, e.Keys[0].Allowed)
		}
		return out
	}
	require.Equal(t, []Mask{Only(1), Only(2), Only(2)}, allowed(2, 0))
	require.Equal(t, []Mask{Only(1), Only(3), Only(3)}, allowed(0, 3))
}
