package effort

import "fingerproof/rules/fingering"

// Calibration turns how likely the passes hold a finger to be into how often editors print it: in ten-thousandths, at
// 0, 500, 1,000 … 10,000 of the likelihood, straight lines between. It is fitted on folds that the prices have not
// seen ('workbench fit'). Empty, it changes nothing.
type Calibration []int32

// CalibrationStep is the distance of two entries of a Calibration, in ten-thousandths; CalibrationSize how many it has.
const (
	CalibrationStep = 500
	CalibrationSize = 10000/CalibrationStep + 1
)

// Of gives the calibrated share for a likelihood, both in ten-thousandths.
func (c Calibration) Of(likelihood int) int {
	if len(c) != CalibrationSize {
		return likelihood
	}
	likelihood = min(max(likelihood, 0), 10000)
	i := min(likelihood/CalibrationStep, CalibrationSize-2)
	a, b := int(c[i]), int(c[i+1])
	return a + (b-a)*(likelihood-i*CalibrationStep)/CalibrationStep
}

// Calibrations are those of a table: for the thumb and the fifth finger, and for those between. Where the passes are
// sure of a finger, the thumb and the fifth are printed nearly always; editors who want another finger want another of
// the inner ones.
type Calibrations struct {
	Outer Calibration `json:"outer"`
	Inner Calibration `json:"inner"`
}

// Of gives the calibrated share for a finger's likelihood, both in ten-thousandths.
func (c *Calibrations) Of(f fingering.Finger, likelihood int) int {
	if f == 1 || f == fingering.Fingers {
		return c.Outer.Of(likelihood)
	}
	return c.Inner.Of(likelihood)
}

// wellFormed says that each calibration is whole or empty.
func (c *Calibrations) wellFormed() bool {
	whole := func(c Calibration) bool { return len(c) == 0 || len(c) == CalibrationSize }
	return whole(c.Outer) && whole(c.Inner)
}
