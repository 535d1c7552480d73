// Package score holds the music as values: what every reader of a
// format fills in and everything above reads. It knows nothing of files.
package score

import (
	"fmt"
	"math"
	"math/bits"
	"strconv"
	"strings"
)

// Fraction is an exact musical time in quarter notes: a small value type,
// always reduced, comparable with ==; its zero value is zero.
//
// Onsets and durations of real scores have small denominators. Where hostile
// or absurd input makes an exact sum overflow, the sum is rounded to the
// nearest 1/roundingGrid quarter instead of wrapping around.
type Fraction struct {
	num  int64
	den1 int64 // denominator minus one, so that the zero value means 0/1
}

// roundingGrid divides evenly by every tuplet up to 16 that is in use.
const roundingGrid = 720720 * 16

// Frac returns num/den reduced. A denominator of zero gives zero: readers
// reject it before it gets here.
func Frac(num, den int64) Fraction {
	if den == 0 || num == 0 {
		return Fraction{}
	}
	if den < 0 {
		num, den = -num, -den
	}
	g := gcd(abs(num), den)
	return Fraction{num / g, den/g - 1}
}

// Whole returns n/1.
func Whole(n int64) Fraction { return Fraction{num: n} }

// Num and Den return the reduced numerator and the positive denominator.
func (f Fraction) Num() int64 { return f.num }
func (f Fraction) Den() int64 { return f.den1 + 1 }

// Sign returns -1, 0 or 1.
func (f Fraction) Sign() int {
	switch {
	case f.num < 0:
		return -1
	case f.num > 0:
		return 1
	}
	return 0
}

// Add returns f+g.
func (f Fraction) Add(g Fraction) Fraction {
	if f.den1 == 0 || g.den1 == 0 { // with a whole number the sum is reduced as the other one is
		if sum, ok := addWhole(f, g); ok {
			return sum
		}
	}
	if f.den1 == g.den1 {
		if s := f.num + g.num; (s > f.num) == (g.num > 0) {
			return Frac(s, f.Den())
		}
	}
	d := gcd(f.Den(), g.Den())
	fm, fok := mul(f.num, g.Den()/d)
	gm, gok := mul(g.num, f.Den()/d)
	den, dok := mul(f.Den(), g.Den()/d)
	sum := fm + gm
	if !fok || !gok || !dok || (sum > fm) != (gm > 0) && gm != 0 {
		return onGrid(f.Float() + g.Float())
	}
	return Frac(sum, den)
}

// addWhole adds two fractions of which one is a whole number; ok is false where that overflows.
func addWhole(f, g Fraction) (sum Fraction, ok bool) {
	if f.den1 != 0 {
		f, g = g, f
	}
	whole, ok := mul(f.num, g.Den())
	n := whole + g.num
	if !ok || (n > whole) != (g.num > 0) && g.num != 0 {
		return sum, false
	}
	return Fraction{n, g.den1}, true
}

// Sub returns f-g.
func (f Fraction) Sub(g Fraction) Fraction { return f.Add(Fraction{-g.num, g.den1}) }

// Mul returns f*g.
func (f Fraction) Mul(g Fraction) Fraction {
	a, b := gcd(abs(f.num), g.Den()), gcd(abs(g.num), f.Den())
	if f.num == 0 || g.num == 0 {
		return Fraction{}
	}
	n, nok := mul(f.num/a, g.num/b)
	d, dok := mul(f.Den()/b, g.Den()/a)
	if !nok || !dok {
		return onGrid(f.Float() * g.Float())
	}
	return Frac(n, d)
}

// Cmp compares f with g: -1, 0 or 1. It is exact for all values.
func (f Fraction) Cmp(g Fraction) int {
	if f == g {
		return 0
	}
	if s, t := f.Sign(), g.Sign(); s != t {
		if s < t {
			return -1
		}
		return 1
	}
	ah, al := bits.Mul64(uint64(abs(f.num)), uint64(g.Den()))
	bh, bl := bits.Mul64(uint64(abs(g.num)), uint64(f.Den()))
	less := ah < bh || ah == bh && al < bl
	if less == (f.num >= 0) {
		return -1
	}
	return 1
}

// Equal reports f == g; go-cmp asks for it.
func (f Fraction) Equal(g Fraction) bool { return f == g }

// Less reports f < g.
func (f Fraction) Less(g Fraction) bool { return f.Cmp(g) < 0 }

// Min and Max return the smaller and the greater of two fractions.
func Min(f, g Fraction) Fraction {
	if g.Less(f) {
		return g
	}
	return f
}

// Max returns the greater of two fractions.
func Max(f, g Fraction) Fraction {
	if f.Less(g) {
		return g
	}
	return f
}

// Float is for display and rough comparison only, never for a decision that
// reaches an output.
func (f Fraction) Float() float64 { return float64(f.num) / float64(f.Den()) }

// Scaled returns f*unit rounded half away from zero, in integers throughout
// (so that two machines agree): microseconds of an onset, say.
func (f Fraction) Scaled(unit int64) int64 {
	n, d := uint64(abs(f.num)), uint64(f.Den())
	hi, lo := bits.Mul64(n, uint64(abs(unit)))
	lo, carry := bits.Add64(lo, d/2, 0)
	hi += carry
	var q uint64
	if hi >= d {
		q = 1<<63 - 1
	} else if q, _ = bits.Div64(hi, lo, d); q > 1<<63-1 {
		q = 1<<63 - 1
	}
	if (f.num < 0) != (unit < 0) {
		return -int64(q)
	}
	return int64(q)
}

// String prints "3/2", and "2" for whole numbers.
func (f Fraction) String() string {
	if f.den1 == 0 {
		return strconv.FormatInt(f.num, 10)
	}
	return strconv.FormatInt(f.num, 10) + "/" + strconv.FormatInt(f.Den(), 10)
}

// ParseFraction reads what String prints.
func ParseFraction(s string) (Fraction, error) {
	top, bottom, split := strings.Cut(s, "/")
	n, err := strconv.ParseInt(top, 10, 64)
	if err != nil {
		return Fraction{}, fmt.Errorf("reading the fraction %q: %w", s, err)
	}
	if !split {
		if tooLarge(n) {
			return Fraction{}, fmt.Errorf("reading the fraction %q: it is too large", s)
		}
		return Whole(n), nil
	}
	d, err := strconv.ParseInt(bottom, 10, 64)
	if err != nil || d == 0 {
		return Fraction{}, fmt.Errorf("reading the fraction %q: bad denominator", s)
	}
	if tooLarge(n) || tooLarge(d) {
		return Fraction{}, fmt.Errorf("reading the fraction %q: it is too large", s)
	}
	return Frac(n, d), nil
}

// tooLarge keeps out the one integer that has no opposite.
func tooLarge(n int64) bool { return n == math.MinInt64 }

// MarshalText and UnmarshalText make fractions readable strings in JSON.
func (f Fraction) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (f *Fraction) UnmarshalText(b []byte) error {
	g, err := ParseFraction(string(b))
	*f = g
	return err
}

func onGrid(x float64) Fraction {
	const limit = float64(1<<62) / roundingGrid
	x = min(max(x, -limit), limit)
	return Frac(int64(x*roundingGrid), roundingGrid)
}

func abs(n int64) int64 {
	if n < 0 {
		return -n
	}
	return n
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return max(a, 1)
}

func mul(a, b int64) (int64, bool) {
	hi, lo := bits.Mul64(uint64(abs(a)), uint64(abs(b)))
	if hi != 0 || lo > 1<<62 {
		return 0, false
	}
	if (a < 0) != (b < 0) {
		return -int64(lo), true
	}
	return int64(lo), true
}
