package results

import (
	"slices"

	"fingerproof/corpus/score/playing"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
)

// reasonsOf lists the digits that editors decided with a reason, decision by decision in the order of their first notes.
func reasonsOf(in *Input) (out []state.DigitReason) {
	at := map[*decision.Decision]int{}
	for n, d := range in.Decided.Deciding {
		if d == nil || d.OwnWhy() == "" || d.On != decision.Notes || in.Bound[n].Finger() == 0 || !in.Playing.Plays(n) {
			continue
		}
		k, there := at[d]
		if !there {
			k = len(out)
			at[d] = k
			out = append(out, state.DigitReason{By: d.By, Why: d.Why})
		}
		out[k].Notes = append(out[k].Notes, state.RedistributedNote{N: n, Finger: in.Bound[n].Finger()})
	}
	for k := range out { // as they are played, not as the file has the voices
		slices.SortStableFunc(out[k].Notes, func(a, b state.RedistributedNote) int {
			return playing.InstantOf(in.Score, a.N).Compare(playing.InstantOf(in.Score, b.N))
		})
	}
	return out
}
