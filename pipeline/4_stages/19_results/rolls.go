package results

import (
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
)

// rollsOf lays down the chords that are offered to be rolled, and those of which it was decided.
func rollsOf(in *Input) (out []state.Roll) {
	for _, r := range in.Rolls {
		entry := state.Roll{
			ID: r.ID, Hand: r.Hand, Direction: decision.Up, Decided: r.Decided, By: r.By, Notes: r.Notes,
			Reason: r.Reason, Why: r.Why, OtherHand: r.OtherHand,
		}
		if r.Down {
			entry.Direction = decision.Down
		}
		out = append(out, entry)
	}
	return out
}
