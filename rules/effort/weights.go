// Package effort prices fingerings: what stretches, moves, passes and keys cost the hand, and what editors are in the
// habit of printing. It fills the price tables that the search asks for.
package effort

import "fingerproof/rules/learned"

// Weights is a table of costs. Costs are in milli-nats (thousandths of a natural unit of log-probability) per unit of
// the term; negative where a place speaks for a finger.
type Weights struct {
	Name        string
	Provenance  string
	Attribution []string
	Terms       [Terms]int32
	// Habit holds the sparse costs: for a context (see Context) the price of some combinations of fingers.
	Habit map[Context][]Price
	// Confidence turns what the passes hold for likely under this table into how often editors print it; empty: as it
	// is.
	Confidence Calibrations

	// Learned is the network that is asked at the weight of its term; nil for none.
	Learned *learned.Network

	habits *habitIndex // of Habit, made when the table was read; nil otherwise
}

// Price is what one combination of fingers costs in a context.
type Price struct {
	Combo int32 // see Combination
	Cost  int32 // milli-nats
}

// fixed turns milli-nats times thousandths into 1/4096 nat, rounded half away from zero.
func fixed(v int64) int32 {
	const unit = 1_000_000
	v *= 4096
	if v < 0 {
		return int32(-((-v + unit/2) / unit))
	}
	return int32((v + unit/2) / unit)
}
