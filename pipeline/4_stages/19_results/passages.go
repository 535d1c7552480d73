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
		entry := state.Collapse{
			Measure: in.Score.Measures[first.Measure].Number, MeasureIndex: first.Measure,
			Hand: in.Playing.Hand(c.Steps[0].ID), Excess: c.Excess, Saving: c.Saving,
		}
		for _, s := range c.Steps {
			entry.Notes = append(entry.Notes, state.RedistributedNote{N: s.ID, Finger: int(s.Finger)})
		}
		out = append(out, entry)
	}
	return out
}

// smallerHandOf lays down what the smaller hand does.
func smallerHandOf(in *Input) (out []state.SmallerPassage) {
	for _, p := range in.Suggestion.Smaller {
		entry := state.SmallerPassage{Hand: score.Right, Beyond: p.Beyond}
		if p.Hand == fingering.Left {
			entry.Hand = score.Left
		}
		for k, n := range p.Notes {
			entry.Notes = append(entry.Notes, state.RedistributedNote{N: n, Finger: int(p.Fingers[k])})
		}
		at := append(append([]int(nil), p.Notes...), p.Beyond...)
		first := at[0]
		for _, n := range at {
			first = min(first, n)
		}
		entry.MeasureIndex = in.Score.Notes[first].Measure
		entry.Measure = in.Score.Measures[entry.MeasureIndex].Number
		out = append(out, entry)
	}
	return out
}
