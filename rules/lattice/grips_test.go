package lattice

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/rules/fingering"
	"fingerproof/rules/fingering/written"
	"fingerproof/rules/hand"
)

// keysOf makes the keys of an event: names with :held for a key that is held and =135 for the fingers allowed on it.
func keysOf(text string) (out []fingering.Sounding) {
	for i, name := range strings.Fields(text) {
		name, digits, _ := strings.Cut(name, "=")
		name, held := strings.CutSuffix(name, ":held")
		k := fingering.Sounding{Key: int8(written.Key(name)), Struck: !held, Strike: i, Allowed: fingering.AnyFinger}
		if digits != "" {
			k.Allowed = 0
			for _, d := range digits {
				k.Allowed |= fingering.Only(fingering.Finger(d - '0'))
			}
		}
		out = append(out, k)
	}
	return out
}

func digits(grips []fingering.Grip, keys int) string {
	var out []string
	for _, g := range grips {
		var b strings.Builder
		for _, f := range g.Fingers[:keys] {
			fmt.Fprint(&b, f)
		}
		out = append(out, b.String())
	}
	return strings.Join(out, " ")
}

const (
	twoInOrder   = "12 13 14 15 23 24 25 34 35 45"
	threeInOrder = "123 124 125 134 135 145 234 235 245 345"
)

// The grips a hand has on keys: fingers in order; the thumb on two neighbouring keys of one colour; and, where one
// key is held while the other moves, the thumb passed under a finger no further than 80 mm, and 3 over 4 or 4 over 5
// no further than 50.
func TestGripsOnKeys(t *testing.T) {
	for _, c := range []struct{ keys, want string }{
		{"c5", "1 2 3 4 5"},
		{"c5 d5", twoInOrder + " 11"},
		{"c5 c#5", twoInOrder}, // one thumb does not take a white and a black key
		{"c#5 d#5", twoInOrder + " 11"},
		{"c5 e5", twoInOrder}, // too far for one thumb
		{"c5 d5 e5", threeInOrder + " 112 113 114 115"},
		{"c5:held e5", twoInOrder + " 21 31 41 43 54"},
		{"c5 e5:held", twoInOrder + " 21 31 41 43 54"},
		{"c5:held d5", twoInOrder + " 11 21 31 41 43 54"},
		{"c5:held d5:held", twoInOrder + " 11"},
		{"c5:held f5", twoInOrder + " 21 31 41"}, // 70.5 mm
		{"c5:held f#5", twoInOrder + " 21 31 41"},
		{"c5:held g5", twoInOrder}, // 94 mm
		{"c5:held e5 g5", threeInOrder + " 213 214 215 314 315 415"},
		{"c5 e5 g5:held", threeInOrder}, // what passes are the two lowest
		{"c5:held e5 g5 b5", "1234 1235 1245 1345 2345"},
		{"c5=24 e5=45", "24 25 45"},
		{"c5:held=3 d5", "34 35 31"},
	} {
		e := &fingering.Event{Keys: keysOf(c.keys)}
		grips, freed := gripsOf(e)
		require.Equal(t, c.want, digits(grips, len(e.Keys)), c.keys)
		require.False(t, freed, c.keys)
		for _, g := range grips {
			require.Zero(t, g.Odd&fingering.Contradictory, c.keys)
		}
	}
}

// Where given digits leave no grip, first held keys are set free of theirs; else the digits stand and the grip is
// marked.
func TestGripsAgainstGivenDigits(t *testing.T) {
	e := &fingering.Event{Keys: keysOf("c5:held=5 e5=2")}
	grips, freed := gripsOf(e)
	require.Equal(t, "12", digits(grips, 2), "the held key is set free of its 5")
	require.True(t, freed)

	e = &fingering.Event{Keys: keysOf("c5=5 e5=1 g5")}
	grips, freed = gripsOf(e)
	require.False(t, freed)
	for _, g := range grips {
		require.NotZero(t, g.Odd&fingering.Contradictory)
		require.Equal(t, "51", digits([]fingering.Grip{g}, 2), "the digits given stand")
	}
	require.Equal(t, "513 514 515", digits(grips, 3), "each once; the free key keeps the fingers it could have")

	e = &fingering.Event{Keys: keysOf("c5:held=2 e5=5 g5=3")}
	grips, _ = gripsOf(e)
	for _, g := range grips {
		require.Equal(t, "53", digits([]fingering.Grip{{Fingers: [5]fingering.Finger{g.Fingers[1], g.Fingers[2]}}}, 2))
	}
	require.Contains(t, digits(grips, 3), "153", "a held key keeps a finger that the grip has there")
}

func TestTheNearestAllowedFinger(t *testing.T) {
	for _, c := range []struct {
		allowed string
		from    fingering.Finger
		want    fingering.Finger
	}{{"15", 1, 1}, {"15", 2, 1}, {"15", 4, 5}, {"15", 3, 1}, {"24", 3, 2}, {"4", 1, 4}, {"1", 5, 1}} {
		require.Equal(
			t, c.want, nearestAllowed(keysOf("c5=" + c.allowed)[0].Allowed, c.from), "%s from %d", c.allowed, c.from,
		)
	}
}

// hardOf gives what the lattice charges the grips of one stroke of keys, in nats, by their fingers.
func hardOf(p hand.Profile, notes ...fingering.Note) map[string]float64 {
	l := New(fingering.NewLine(fingering.Right, notes, p.Fits), p)
	out := map[string]float64{}
	e := l.Events() - 1
	for g, grip := range l.Grips(e) {
		out[digits([]fingering.Grip{grip}, len(l.Line.Events[e].Keys))] = float64(l.Hard(e)[g]) / Nat
	}
	return out
}

func struckAt(keys ...int) (out []fingering.Note) {
	for i, k := range keys {
		out = append(out, fingering.Note{ID: i, Key: k, End: fingering.Moment{Num: 4, Den: 1}})
	}
	return out
}

// What the hand cannot do costs 50 nats for each pair of fingers and one for each millimetre beyond (distances: FACTS
// §2.1).
func TestThePriceOfWhatTheHandCannotDo(t *testing.T) {
	g := hardOf(hand.NinthHand, struckAt(72, 79)...) // c g: 94 mm
	require.Zero(t, g["15"])
	require.Zero(t, g["12"])
	require.InDelta(t, 50+22, g["23"], 0.01, "2-3 spans 72 mm")
	require.InDelta(t, 50+34, g["34"], 0.01, "3-4 spans 60 mm")
	require.InDelta(
		t, 50+(94-72*230./210), hardOf(hand.TenthHand, struckAt(72, 79)...)["23"], 0.02, "a larger hand spans more",
	)
	three := hardOf(hand.NinthHand, struckAt(72, 79, 86)...) // c g d: 94 and 188-ish mm
	require.InDelta(t, 50+22+50+(94-60)+50+(188-104), three["234"], 1.5, "each pair")
	pair := hardOf(hand.NinthHand, struckAt(72, 74)...)
	require.InDelta(t, 2.5, pair["11"], 0.001, "the thumb on two keys is legal and has its price")

	// A held key: the thumb passes under within 80 mm, the price of an oddity and no more.
	held := []fingering.Note{
		{ID: 0, Key: 72, End: fingering.Moment{Num: 2, Den: 1}},
		{ID: 1, Key: 76, Onset: fingering.Moment{Num: 1, Den: 1}, End: fingering.Moment{Num: 2, Den: 1}},
	}
	odd := hardOf(hand.NinthHand, held...)
	require.InDelta(t, 2.5, odd["31"], 0.001)
	require.InDelta(t, 2.5, odd["43"], 0.001)
	require.Zero(t, odd["13"])
}

// Digits that contradict one another leave grips that cost 20 nats more, and what they go beyond the hand.
func TestThePriceOfContradiction(t *testing.T) {
	notes := struckAt(72, 76)
	notes[0].Allowed, notes[1].Allowed = fingering.Only(3), fingering.Only(2)
	require.InDelta(t, 20, hardOf(hand.NinthHand, notes...)["32"], 0.001, "no hand lies so, though 47 mm are near")
	notes[1].Key = 84 // an octave: nothing lies over a finger that far
	require.InDelta(t, 20+50+(164.5-50), hardOf(hand.NinthHand, notes...)["32"], 0.01)
	notes[0].Allowed, notes[1].Allowed = fingering.Only(5), fingering.Only(1)
	require.InDelta(t, 20+50+(164.5-80), hardOf(hand.NinthHand, notes...)["51"], 0.01)
}

func excess(keys string, fingers ...fingering.Finger) (pairs int, beyond hand.Length) {
	var g fingering.Grip
	copy(g.Fingers[:], fingers)
	return Excess(hand.NinthHand, keysOf(keys), g)
}

func TestHowFarAGripGoesBeyondTheHand(t *testing.T) {
	for _, c := range []struct {
		keys    string
		fingers []fingering.Finger
		pairs   int
		beyond  hand.Length
	}{
		{"c5 g5", []fingering.Finger{1, 5}, 0, 0},
		{"c5 g5", []fingering.Finger{2, 3}, 1, 2200},
		{"c5 d5", []fingering.Finger{1, 1}, 0, 0},
		{"c5 c#5", []fingering.Finger{1, 1}, 1, 940}, // colours differ
		{"c5 e5", []fingering.Finger{1, 1}, 1, 4700}, // no neighbours
		{"c5 d5", []fingering.Finger{2, 2}, 1, 2350}, // only a thumb lies on two
		{"c5 f5", []fingering.Finger{3, 1}, 0, 0},
		{"c5 g5", []fingering.Finger{3, 1}, 1, 1400},
		{"c5 e5", []fingering.Finger{4, 3}, 0, 0},
		{"c5 f5", []fingering.Finger{4, 3}, 1, 2050},
		{"c5 f5", []fingering.Finger{4, 2}, 1, 2050},
		{"c5 f5 g5", []fingering.Finger{3, 4, 4}, 3, 7050 - 6000 + 9400 - 6000 + 2350},
	} {
		pairs, beyond := excess(c.keys, c.fingers...)
		require.Equal(t, c.pairs, pairs, "%s %v", c.keys, c.fingers)
		require.Equal(t, c.beyond, beyond, "%s %v", c.keys, c.fingers)
	}
}

// Fingers that cross on near keys are within reach: that they cross is told as such.
func TestFingersThatCrossAreWithinReach(t *testing.T) {
	for _, c := range []struct {
		keys    string
		fingers []fingering.Finger
		pairs   int
	}{
		{"d4 b4", []fingering.Finger{2, 1}, 0},
		{"c5 f5", []fingering.Finger{4, 3}, 1}, // a fourth between 3 and 4, in whatever order
		{"c5 e6", []fingering.Finger{5, 1}, 1},
		{"c5 e5", []fingering.Finger{1, 1}, 1},
	} {
		var g fingering.Grip
		copy(g.Fingers[:], c.fingers)
		require.Equal(t, c.pairs, BeyondReach(hand.NinthHand, keysOf(c.keys), g), "%s %v", c.keys, c.fingers)
	}
}

// Setting held keys free costs all grips of the event alike, and more than the dearest of them: it chooses nothing.
func TestSettingHeldKeysFreeChoosesNothing(t *testing.T) {
	notes := []fingering.Note{{ID: 0, Key: 72, Allowed: fingering.Only(5), End: fingering.Moment{Num: 2, Den: 1}},
		{
			ID: 1, Key: 79, Allowed: fingering.Only(2), Onset: fingering.Moment{Num: 1, Den: 1},
			End: fingering.Moment{Num: 2, Den: 1},
		},
	}
	l := New(fingering.NewLine(fingering.Right, notes, hand.NinthHand.Fits), hand.NinthHand)
	require.Zero(t, l.Freed(0))
	// Dearest of the grips on c g: 3-4 with 34 mm beyond its 60.
	require.InDelta(t, 50+50+34, float64(l.Freed(1))/Nat, 0.01)
	require.Equal(t, "12", digits(l.Grips(1), 2))
	require.Equal(t, l.Freed(1), l.Hard(1)[0])
}
