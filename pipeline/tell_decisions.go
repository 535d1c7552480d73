package pipeline

import (
	"cmp"
	"slices"
	"strconv"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// tellWhose gives a decided digit its editor.
func tellWhose(w *PieceRun, i int, out *state.Note) {
	d := &w.Bound[i]
	switch {
	case d.Finger() > 0:
		out.Responsibility, out.Agent = score.Editor, d.By
		for _, s := range out.Source { // the editor agrees with what stands there: it stays whose it is
			if len(s.Fingers) == 0 && s.Text == strconv.Itoa(out.Finger) || len(s.Fingers) > 0 && s.Fingers[0] == out.Finger {
				out.Responsibility = s.Responsibility
			}
		}
	case d.Verb != "":
		out.Agent = d.By
	}
}

// tellDecisions lays down what the decisions came to.
func tellDecisions(w *PieceRun, r *state.Result) {
	r.Summary.Press, r.Summary.Open = w.Press, len(w.Open)
	for i := range w.Bound {
		if w.Bound[i].Verb != "" && w.Playing.Plays(i) {
			r.Summary.Decided++
		}
	}
	for _, u := range w.Decided.Unplaced {
		out := state.Unplaced{Verb: string(u.Decision.Verb), By: u.Decision.By, When: u.Decision.When, Measure: u.Ref.Printed, Pitch: u.Ref.Pitch, Why: u.Why, Entry: place(u.Decision)}
		for _, c := range u.Nearest {
			out.Nearest = append(out.Nearest, c.Note)
		}
		r.Unplaced = append(r.Unplaced, out)
	}
	if w.Press {
		r.Open = openMeasures(w)
	}
}

// openMeasures gathers open notes by measure and hand, in order of the music.
func openMeasures(w *PieceRun) []state.OpenMeasure {
	var out []state.OpenMeasure
	for _, n := range w.Open {
		note := &w.Score.Notes[n]
		k := slices.IndexFunc(out, func(o state.OpenMeasure) bool { return o.MeasureIndex == note.Measure && o.Hand == w.Playing.Hand(n) })
		if k < 0 {
			k = len(out)
			out = append(out, state.OpenMeasure{Measure: w.Score.Measures[note.Measure].Number, MeasureIndex: note.Measure, Hand: w.Playing.Hand(n)})
		}
		out[k].Notes = append(out[k].Notes, n)
	}
	slices.SortStableFunc(out, func(a, b state.OpenMeasure) int {
		return cmp.Or(cmp.Compare(a.MeasureIndex, b.MeasureIndex), cmp.Compare(a.Hand, b.Hand))
	})
	return out
}
