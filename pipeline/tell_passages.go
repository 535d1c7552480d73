package pipeline

import (
	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/rules/fingering"
)

// tellCollapses lays down what is best in practice and does not hold at the tempo.
func tellCollapses(w *PieceRun) (out []state.Collapse) {
	for _, c := range w.Suggestion.Collapses {
		first := &w.Score.Notes[c.Steps[0].ID]
		told := state.Collapse{
			Measure: w.Score.Measures[first.Measure].Number, MeasureIndex: first.Measure, Hand: w.Playing.Hand(c.Steps[0].ID), Excess: c.Excess, Saving: c.Saving,
		}
		for _, s := range c.Steps {
			told.Notes = append(told.Notes, state.RedistributedNote{N: s.ID, Finger: int(s.Finger)})
		}
		out = append(out, told)
	}
	return out
}

// tellSmaller lays down what the smaller hand does.
func tellSmaller(w *PieceRun) (out []state.SmallerPassage) {
	for _, p := range w.Suggestion.Smaller {
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
		told.MeasureIndex = w.Score.Notes[first].Measure
		told.Measure = w.Score.Measures[told.MeasureIndex].Number
		out = append(out, told)
	}
	return out
}
