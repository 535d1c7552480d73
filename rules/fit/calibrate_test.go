package fit

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
)

// A calibration tells, of fingers foretold about as likely, how many were printed, and never falls.
func TestCalibrationTellsWhatWasPrinted(t *testing.T) {
	var foretold []Foretold
	for i := range 40_000 {
		likelihood := i % 10_000
		// Printed four times in five of what is foretold: the remainders of a multiple spread evenly.
		foretold = append(foretold, Foretold{1, likelihood, i*7919%10_000 < likelihood*4/5})
	}
	c := Calibrate(foretold)
	require.Len(t, c, effort.CalibrationSize)
	for _, likelihood := range []int{1000, 2500, 5250, 8000, 9750} {
		require.InDelta(t, likelihood*4/5, c.Of(likelihood), 250, "%d", likelihood)
	}
}

func TestACalibrationNeverFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var foretold []Foretold
		seed := rapid.Uint64().Draw(t, "seed")
		for range 4000 {
			seed = seed*6364136223846793005 + 1442695040888963407
			foretold = append(foretold, Foretold{3, int(seed >> 33 % 10_001), seed>>20%3 > 0})
		}
		c := Calibrate(foretold)
		for likelihood := 1; likelihood <= 10_000; likelihood++ {
			require.GreaterOrEqual(t, c.Of(likelihood), c.Of(likelihood-1))
		}
		require.LessOrEqual(t, c.Of(10_000), 10_000)
		require.GreaterOrEqual(t, c.Of(0), 0)
	})
	require.Nil(t, Calibrate(make([]Foretold, 100)), "too few")
	require.Equal(t, 4321, effort.Calibration(nil).Of(4321), "none changes nothing")
}

// The outer fingers and the inner ones are calibrated each for themselves.
func TestCalibrationByFinger(t *testing.T) {
	var foretold []Foretold
	for i := range 40_000 {
		likelihood := i % 10_000
		foretold = append(foretold,
			Foretold{fingering.Finger(1 + 4*(i%2)), likelihood, true},
			Foretold{fingering.Finger(2 + i%3), likelihood, i*7919%10_000 < likelihood/2})
	}
	c := CalibrateFingers(foretold)
	for f := fingering.Finger(1); f <= fingering.Fingers; f++ {
		want := 4000
		if f == 1 || f == 5 {
			want = 10_000
		}
		require.InDelta(t, want, c.Of(f, 8000), 250, "%d", f)
	}
	require.Equal(t, 4321, new(effort.Calibrations).Of(3, 4321), "none changes nothing")
}

// Equal sums are equal trainings: every setting and label counts.
func TestTheSumOfATraining(t *testing.T) {
	s := Defaults()
	sum := Sum(nil, effort.HandSet(), hand.NinthHand, s)
	require.Equal(t, sum, Sum(nil, effort.HandSet(), hand.NinthHand, s))
	s.Epochs++
	require.NotEqual(t, sum, Sum(nil, effort.HandSet(), hand.NinthHand, s))
	other := *effort.HandSet()
	other.Terms[3]++
	require.NotEqual(t, sum, Sum(nil, &other, hand.NinthHand, Defaults()))
}
