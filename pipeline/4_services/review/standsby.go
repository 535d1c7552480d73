package review

import (
	"slices"

	"fingerproof/pipeline/3_records/state"
)

// StandsBy are the notes by which a finding is let stand: those of its anchors that are played, or else the first that
// is played in its measure, since a rest is no note that a decision could name; none where nothing is played there. at finds
// the notes of the result.
func StandsBy(at state.ByNumber, r *state.Result, f *state.Finding) (out []int) {
	for _, n := range f.Anchors() {
		if at.Of(n) != nil && !slices.Contains(out, n) { // of two places one note may speak
			out = append(out, n)
		}
	}
	for i := 0; len(out) == 0 && i < len(r.Notes); i++ {
		if r.Notes[i].MeasureIndex == f.MeasureIndex {
			out = append(out, r.Notes[i].N)
		}
	}
	return out
}
