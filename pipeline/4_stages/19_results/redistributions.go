package results

import (
	"fingerproof/pipeline/3_records/state"
)

// redistributionsOf lays down what is offered to the other hand. The text as
// written keeps its hands and fingers.
func redistributionsOf(in *Input) (out []state.Redistribution) {
	for i := range in.Redistributions {
		r := &in.Redistributions[i]
		entry := state.Redistribution{
			ID: r.ID, To: r.To, Reason: r.Reason, Decided: r.Decided, Gain: r.Gain, Why: r.Why, Like: r.Like,
		}
		for k, n := range r.Notes {
			finger := int(r.Fingers[k])
			if finger == 0 { // decided without a digit: the hand has it already
				finger = int(in.Suggestion.Notes[n].Finger)
			}
			if finger > 0 {
				entry.Notes = append(entry.Notes, state.RedistributedNote{N: n, Finger: finger})
			}
		}
		for k, n := range r.Around {
			if r.AroundFingers[k] == 0 {
				continue
			}
			entry.Around = append(entry.Around, state.RedistributedNote{N: n, Finger: int(r.AroundFingers[k])})
		}
		out = append(out, entry)
	}
	return out
}
