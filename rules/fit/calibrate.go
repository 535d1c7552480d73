package fit

import (
	"cmp"
	"math"
	"slices"

	"fingerproof/rules/effort"
	"fingerproof/rules/fingering"
)

// Foretold is a finger that was foretold: how likely, in ten-thousandths, and whether an editor printed it.
type Foretold struct {
	Finger     fingering.Finger
	Likelihood int
	Printed    bool
}

// CalibrateFingers fits a calibration for the thumb and the fifth finger, and one for those between.
func CalibrateFingers(foretold []Foretold) (c effort.Calibrations) {
	var outer, inner []Foretold
	for _, f := range foretold {
		if f.Finger == 1 || f.Finger == fingering.Fingers {
			outer = append(outer, f)
		} else {
			inner = append(inner, f)
		}
	}
	return effort.Calibrations{Outer: Calibrate(outer), Inner: Calibrate(inner)}
}

// calibrationGroup is the least number of foretold fingers that one step of a calibration rests on.
const calibrationGroup = 300

// Calibrate fits a calibration: groups of fingers foretold about as likely, in order, neighbours that fall joined
// (isotonic regression), and straight lines between the middles of the groups. Too few fingers give none. The outcome
// depends on the fingers alone, in any order.
func Calibrate(foretold []Foretold) effort.Calibration {
	if len(foretold) < 10*calibrationGroup {
		return nil
	}
	sorted := slices.Clone(foretold)
	slices.SortFunc(sorted, func(a, b Foretold) int {
		return cmp.Or(cmp.Compare(a.Likelihood, b.Likelihood), cmp.Compare(bit(a.Printed), bit(b.Printed)))
	})
	type group struct{ n, printed, sum int }
	var groups []group
	for i := 0; i < len(sorted); {
		g := group{}
		for ; i < len(sorted) && (g.n < calibrationGroup || sorted[i].Likelihood == sorted[i-1].Likelihood); i++ {
			g = group{g.n + 1, g.printed + bit(sorted[i].Printed), g.sum + sorted[i].Likelihood}
		}
		groups = append(groups, g)
		for k := len(groups) - 1; k > 0 && groups[k-1].printed*groups[k].n >= groups[k].printed*groups[k-1].n; k-- {
			a, b := groups[k-1], groups[k]
			groups = append(groups[:k-1], group{a.n + b.n, a.printed + b.printed, a.sum + b.sum})
		}
	}
	middle := func(g group) (x, y float64) {
		return float64(g.sum) / float64(g.n), 10000 * float64(g.printed) / float64(g.n)
	}
	out := make(effort.Calibration, effort.CalibrationSize)
	for k := range out {
		at := float64(k * effort.CalibrationStep)
		i, _ := slices.BinarySearchFunc(groups, at, func(g group, at float64) int {
			x, _ := middle(g)
			return cmp.Compare(x, at)
		})
		// Between two groups, or on the line through the two outermost ones.
		i = min(max(i, 1), len(groups)-1)
		x0, y0 := middle(groups[max(i-1, 0)])
		x1, y1 := middle(groups[i])
		y := y1
		if x1 > x0 {
			y = y0 + (y1-y0)*(at-x0)/(x1-x0)
		}
		out[k] = int32(math.Round(min(max(y, 0), 10000)))
	}
	for k := 1; k < len(out); k++ {
		out[k] = max(out[k], out[k-1])
	}
	return out
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}
