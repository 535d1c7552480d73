package results

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/fingering"
)

// collapsesOf lays down what is best in practice and does not hold at the tempo.
func collapsesOf(in *Input) (out []state.Collapse) {
	for _, c := range in.Suggestion.Collapses {
		first := &in.Score.Notes[c.Steps[0].ID]
		told := state.Collapse{
			Measure: in.Score.Measures[first.Measure].Number, MeasureIndex: first.Measure,
			Hand: in.Playing.Hand(c.Steps[0].ID), Excess: c.Excess, Saving: c.Saving,
		}
		for _, s := range c.Steps {
			told.Notes = append(told.Notes, state.RedistributedNote{N: s.ID, Finger: int(s.Finger)})
		}
		out = append(out, told)
	}
	return out
}

// smallerHandOf lays down what the smaller hand does.
func smallerHandOf(in *Input) (out []state.SmallerPassage) {
	for _, p := range in.Suggestion.Smaller {
		told := state.SmallerPassage{Hand: score.Right, Beyond: p.Beyond}
		if p.Hand == fingering.Left {
			told.Hand = score.Left
		}
		for k, n := range p.Notes {
			told.Notes = append(told.Notes, state.RedistributedNote{N: n, Finger: int(p.Fingers[k])})
		}
		at := append(append([]int(nil), p.Notes...), p.Beyond...)
		first := at[0]
		for _, n := range at {
			first = min(first, n)
		}
		told.MeasureIndex = in.Score.Notes[first].Measure
		told.Measure = in.Score.Measures[told.MeasureIndex].Number
		out = append(out, told)
	}
	return out
}
