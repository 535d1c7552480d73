package results

import (
	"cmp"
	"slices"
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
)

// addDecider gives a decided digit its editor.
func addDecider(in *Input, i int, out *state.Note) {
	d := &in.Bound[i]
	switch {
	case d.Finger() > 0:
		out.Responsibility, out.Agent = score.Editor, d.By
		for _, s := range out.Source { // the editor agrees with what stands there: it stays whose it is
			if len(s.Fingers) == 0 && s.Text == strconv.Itoa(out.Finger) ||
				len(s.Fingers) > 0 && s.Fingers[0] == out.Finger {
				out.Responsibility = s.Responsibility
			}
		}
	case d.Verb != "":
		out.Agent = d.By
	}
}

// addDecisions lays down what the decisions came to.
func addDecisions(in *Input, r *state.Result) {
	r.Summary.Press, r.Summary.Open = in.Press, len(in.Open)
	for i := range in.Bound {
		if in.Bound[i].Verb != "" && in.Playing.Plays(i) {
			r.Summary.Decided++
		}
	}
	for _, u := range in.Decided.Unplaced {
		out := state.Unplaced{
			Verb: string(u.Decision.Verb), By: u.Decision.By, When: u.Decision.When,
			Measure: u.Ref.Printed, Pitch: u.Ref.Pitch, Why: u.Why, Entry: u.Decision.Place(),
		}
		if state.WholeWith(string(u.Decision.On)) != "" {
			out.On = string(u.Decision.On)
		}
		for _, c := range u.Nearest {
			out.Nearest = append(out.Nearest, c.Note)
		}
		if u.Instead >= 0 {
			out.Instead = &u.Instead
			if len(u.Ref.Fingers) > 0 {
				out.Digits = decision.Digits(u.Ref.Fingers)
			}
		}
		r.Unplaced = append(r.Unplaced, out)
	}
	if in.Press {
		r.Open = openMeasures(in)
	}
	addContradictions(in, r)
}

// openMeasures gathers open notes by measure and hand, in order of the music.
func openMeasures(in *Input) []state.OpenMeasure {
	var out []state.OpenMeasure
	for _, n := range in.Open {
		note := &in.Score.Notes[n]
		k := slices.IndexFunc(out,
			func(o state.OpenMeasure) bool { return o.MeasureIndex == note.Measure && o.Hand == in.Playing.Hand(n) })
		if k < 0 {
			k = len(out)
			out = append(out, state.OpenMeasure{
				Measure: in.Score.Measures[note.Measure].Number, MeasureIndex: note.Measure,
				Hand: in.Playing.Hand(n),
			})
		}
		out[k].Notes = append(out[k].Notes, n)
	}
	slices.SortStableFunc(out, func(a, b state.OpenMeasure) int {
		return cmp.Or(cmp.Compare(a.MeasureIndex, b.MeasureIndex), cmp.Compare(a.Hand, b.Hand))
	})
	return out
}
