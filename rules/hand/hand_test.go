package hand

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestKeyboardIsItsOwnMirrorAboutD(t *testing.T) {
	for k := -40; k <= 164; k++ {
		m := 124 - k
		require.Equal(t, Black(k), Black(m), "colour of key %d", k)
		require.Equal(t, Distance(k, 62), Distance(62, m), "place of key %d", k)
		require.Equal(t, Octave, Distance(k, k+12))
		require.Less(t, Centre(k), Centre(k+1))
	}
}

// FACTS §1.2, distances between the middles of white keys [D].
func TestWhiteKeyIntervals(t *testing.T) {
	require.Equal(t, Length(16450), Distance(60, 72))
	require.Equal(t, Length(18800), Distance(60, 74))
	require.Equal(t, Length(21150), Distance(60, 76))
}

// FACTS §1.2: share that reaches, on a normal curve [D]; FACTS §1.1: under 21.6 cm [T].
func TestReachOfThePopulation(t *testing.T) {
	require.InDelta(t, 9880, Share(Women, 16450+reachMargin), 40)
	require.InDelta(t, 10000, Share(Men, 16450+reachMargin), 5)
	require.InDelta(t, 7100, Share(Women, 18800+reachMargin), 150)
	require.InDelta(t, 9900, Share(Men, 18800+reachMargin), 60)
	require.InDelta(t, 1300, Share(Women, 21150+reachMargin), 100)
	require.InDelta(t, 7600, Share(Men, 21150+reachMargin), 100)
	require.InDelta(t, 8710, 10000-Share(Women, 21600), 60)
	require.InDelta(t, 2380, 10000-Share(Men, 21600), 60)
	require.InDelta(t, 200, 10000-Share(Men, 20100)-180, 250, "men below the women's mean: 2–4 in a hundred")
}

func TestReachFallsWithDistance(t *testing.T) {
	for a := 1; a <= 5; a++ {
		for b := a + 1; b <= 5; b++ {
			for d := Length(0); d < 40000; d += 250 {
				require.GreaterOrEqual(t, Reach(a, b, d), Reach(a, b, d+250))
			}
		}
	}
}

// The three hands are named for what they take with ease.
func TestHandsTakeWhatTheirNameSays(t *testing.T) {
	octave, ninth, tenth := Distance(60, 72), Distance(60, 74), Distance(60, 76)
	require.LessOrEqual(t, octave, OctaveHand.Practical(1, 5))
	require.LessOrEqual(t, ninth, NinthHand.Practical(1, 5))
	require.LessOrEqual(t, tenth, TenthHand.Practical(1, 5))
	require.Less(t, OctaveHand.Practical(1, 5), ninth)
	require.Less(t, NinthHand.Practical(1, 5), tenth)
}

func TestSpansGrowAlongTheHand(t *testing.T) {
	for _, p := range []Profile{OctaveHand, NinthHand, TenthHand} {
		for a := 1; a <= 5; a++ {
			for b := a + 1; b <= 5; b++ {
				require.Equal(t, p.Practical(a, b), p.Practical(b, a))
				require.Less(t, p.Relaxed(a, b), p.Comfortable(a, b))
				require.Less(t, p.Comfortable(a, b), p.Practical(a, b))
				if b < 5 {
					require.Less(t, p.Practical(a, b), p.Practical(a, b+1))
				}
				if a > 1 {
					require.Greater(t, p.Practical(a-1, b), p.Practical(a, b))
				}
			}
		}
	}
}
