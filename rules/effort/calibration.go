package effort

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
