package results

import (
	"fingerproof/pipeline/3_records/state"
)

// addUnattributed says that nothing tells whose the digits in the text are: neither the manifest, nor the policy, nor
// an edition of ours, nor witnesses that have half of them.
func addUnattributed(in *Input, r *state.Result) {
	if in.Attributed || r.Summary.Given == 0 {
		return
	}
	attested := 0
	for i := range r.Notes {
		for _, s := range r.Notes[i].Source {
			if !s.WitnessOnly && len(s.Witnesses) > 0 {
				attested++
				break
			}
		}
	}
	r.Summary.Unattributed = 2*attested < r.Summary.Given
}
