package score_test

import (
	"math"
	"math/big"
	"strings"
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func rat(f score.Fraction) *big.Rat { return big.NewRat(f.Num(), f.Den()) }

func anyFraction(t *rapid.T, name string) score.Fraction {
	return score.Frac(rapid.Int64Range(-1<<20, 1<<20).Draw(t, name), rapid.Int64Range(1, 1<<12).Draw(t, name+" den"))
}

// math/big (the standard library's exact fractions) is the oracle.
func TestArithmeticIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyFraction(t, "a"), anyFraction(t, "b")
		require.Zero(t, rat(a.Add(b)).Cmp(new(big.Rat).Add(rat(a), rat(b))))
		require.Zero(t, rat(a.Sub(b)).Cmp(new(big.Rat).Sub(rat(a), rat(b))))
		require.Zero(t, rat(a.Mul(b)).Cmp(new(big.Rat).Mul(rat(a), rat(b))))
		whole := score.Whole(rapid.Int64Range(-1<<40, 1<<40).Draw(t, "whole"))
		for _, sum := range []score.Fraction{a.Add(whole), whole.Add(a)} {
			require.Zero(t, rat(sum).Cmp(new(big.Rat).Add(rat(a), rat(whole))))
			require.Equal(t, score.Frac(sum.Num(), sum.Den()), sum, "reduced")
		}
		require.Equal(t, rat(a).Cmp(rat(b)), a.Cmp(b))
		require.Equal(t, a.Cmp(b) == 0, a == b, "equal fractions are the same value")
		back, err := score.ParseFraction(a.String())
		require.NoError(t, err)
		require.Equal(t, a, back)
		unit := rapid.Int64Range(1, 1<<30).Draw(t, "unit")
		exact, _ := new(big.Rat).Mul(rat(a), new(big.Rat).SetInt64(unit)).Float64()
		require.InDelta(t, exact, float64(a.Scaled(unit)), 0.5+math.Abs(exact)*1e-12)
	})
}

// Absurd input neither wraps around nor panics: sums too fine to hold are
// rounded.
func TestOverflowIsRoundedNotWrapped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := score.Frac(rapid.Int64().Draw(t, "a")/2, max(rapid.Int64().Draw(t, "d")/2, 1))
		b := score.Frac(rapid.Int64().Draw(t, "b")/2, max(rapid.Int64().Draw(t, "e")/2, 1))
		require.Equal(t, rat(a).Cmp(rat(b)), a.Cmp(b), "comparison is exact for all values")
		sum := a.Add(b).Float()
		require.False(t, math.IsNaN(sum) || math.IsInf(sum, 0))
		if exact := a.Float() + b.Float(); math.Abs(exact) < 1e11 {
			require.InDelta(t, exact, sum, 1e-6+math.Abs(exact)*1e-9)
		}
	})
}

func TestZeroValueIsZero(t *testing.T) {
	var zero score.Fraction
	require.Equal(t, "0", zero.String())
	require.Equal(t, zero, score.Frac(0, 7))
	require.Equal(t, zero, score.Frac(3, 0))
	_, err := score.ParseFraction("1/0")
	require.ErrorContains(t, err, "1/0")
}

// Whatever a file says, what can be read is reduced, has a positive
// denominator, and is read again from what it prints.
func TestAnyFractionThatCanBeReadIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.StringMatching(`-?[0-9]{1,19}(/-?[0-9]{1,19})?`),
			rapid.SampledFrom([]string{
				"-9223372036854775808", "-9223372036854775808/3", "1/-9223372036854775808",
				"9223372036854775807/9223372036854775807",
			}),
		).Draw(t, "text")
		f, err := score.ParseFraction(text)
		if err != nil {
			require.ErrorContains(t, err, text)
			return
		}
		require.Positive(t, f.Den())
		require.Zero(t, rat(f).Num().Cmp(big.NewInt(f.Num())), "reduced")
		again, err := score.ParseFraction(f.String())
		require.NoError(t, err)
		require.Equal(t, f, again)
		top, bottom, _ := strings.Cut(text+"/1", "/")
		bottom, _, _ = strings.Cut(bottom, "/")
		n, _ := new(big.Int).SetString(top, 10)
		d, _ := new(big.Int).SetString(bottom, 10)
		require.Zero(t, rat(f).Cmp(new(big.Rat).SetFrac(n, d)))
	})
}
