package pipeline

import (
	"slices"

	"fingerproof/pipeline/3_records/state"
)

// AtFirst gives the fingers of every note as they were suggested before anybody decided anything: with what is decided a search
// comes to other digits beside it, and an editor has to hear which. It is nil where nothing asks for it: no open digit stands
// beside decided ones. The search is done once and kept, mostly since the first run.
func (run *PieceRun) AtFirst() [][]int {
	if run.Result == nil || run.Score == nil || !slices.ContainsFunc(run.Result.Asked, func(a state.Asked) bool { return a.Cause == state.CauseBeside }) {
		return nil
	}
	in := InputsOf(run)
	first := &PieceRun{
		Piece: &in.Piece, Data: in.Data, WitnessData: in.Witnesses, DraftData: in.Draft, Policy: in.Policy, Weights: in.Weights,
		Today: in.Today, Press: in.Press, Kept: run.Kept,
	}
	if err := runStages(without(first), Stages[:stageOrder["suggest"]+1]); err != nil || len(first.Suggestion.Notes) != len(run.Score.Notes) {
		return nil
	}
	out := make([][]int, len(first.Suggestion.Notes))
	for n := range out {
		if s := &first.Suggestion.Notes[n]; s.Finger > 0 {
			out[n] = []int{int(s.Finger)}
			if s.Substitution > 0 {
				out[n] = append(out[n], int(s.Substitution))
			}
		}
	}
	return out
}
