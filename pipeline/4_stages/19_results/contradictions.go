package results

import (
	"fmt"
	"slices"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/pipeline/4_stages/10_bind"
	"fingerproof/rules/parallel"
)

func refOf(d *decision.Decision) state.DecisionRef {
	return state.DecisionRef{Verb: string(d.Verb), On: string(d.On), By: d.By, When: d.When, Entry: d.Place()}
}

// addContradictions lays down which decisions say different things of the same notes, by measure and hand in the order
// of the notes.
func addContradictions(in *Input, r *state.Result) {
	open := map[int]bool{}
	for _, n := range in.Open {
		open[n] = true
	}
	add := func(n int, cause string, first, second *decision.Decision) {
		note := &in.Score.Notes[n]
		c := state.Contradiction{
			Cause: cause, Measure: in.Score.Measures[note.Measure].Number, MeasureIndex: note.Measure,
			Hand: in.Playing.Hand(n), First: refOf(first), Second: refOf(second),
		}
		k := slices.IndexFunc(r.Contradictions, func(o state.Contradiction) bool {
			return o.Cause == c.Cause && o.MeasureIndex == c.MeasureIndex && o.Hand == c.Hand && o.First == c.First &&
				o.Second == c.Second
		})
		if k < 0 {
			k = len(r.Contradictions)
			r.Contradictions = append(r.Contradictions, c)
		}
		r.Contradictions[k].Notes = append(r.Contradictions[k].Notes, n)
		if pitch := note.Pitch.String(); !slices.Contains(r.Contradictions[k].Pitches, pitch) {
			r.Contradictions[k].Pitches = append(r.Contradictions[k].Pitches, pitch)
		}
		r.Contradictions[k].Open = r.Contradictions[k].Open || open[n]
	}
	for _, c := range in.Decided.Contradictions {
		add(c.Note, state.CauseEditors, c.First, c.Second)
	}
	for _, o := range in.Decided.Overruled {
		add(o.Note, string(o.Cause), o.First, o.Second)
	}
	for i := range in.Same { // what another editor decided for returns, and this one otherwise
		for k := range in.Same[i].First {
			differAtReturn(in, &in.Same[i], k, false, add)
			differAtReturn(in, &in.Same[i], k, true, add)
		}
	}
	for n := range in.Bound { // what gave way to notes that changed hands in its stroke
		if in.Bound[n].Verb != "" || in.Decided.Digits[n].Verb == "" || n >= len(in.Decided.Deciding) {
			continue
		}
		if by := handedBeside(in, n); by != nil {
			add(n, string(decide.Freed), in.Decided.Deciding[n], by)
		}
	}
	slices.SortStableFunc(r.Contradictions, func(a, b state.Contradiction) int { return a.MeasureIndex - b.MeasureIndex })
	addAsked(in, r, open)
}

// differAtReturn lays down that a digit decided for its returns meets another editor's at one of them, which holds there.
func differAtReturn(in *Input, r *parallel.Return, k int, back bool, add func(int, string, *decision.Decision, *decision.Decision)) {
	from, to := r.First[k], r.Later[k]
	if back {
		from, to = to, from
	}
	if from >= len(in.Decided.Deciding) || to >= len(in.Decided.Deciding) {
		return
	}
	here, there := in.Decided.Deciding[from], in.Decided.Deciding[to]
	if here == nil || there == nil || !in.Decided.Digits[from].Returns || here.By == there.By ||
		in.Decided.Digits[to].Finger() == 0 || slices.Equal(in.Decided.Digits[from].Fingers, in.Decided.Digits[to].Fingers) ||
		!bind.Holds(in.Score, in.Playing, in.Decided, r, k, back) {
		return
	}
	add(to, state.CauseReturn, here, there)
}

// handedBeside is the decision that gave another note of a note's stroke to the hand, nil where none did.
func handedBeside(in *Input, n int) *decision.Decision {
	stroke := in.Playing.Stroke(n)
	if stroke == nil {
		return nil
	}
	for _, m := range stroke.Notes {
		if d := in.Decided.Deciding[m]; d != nil && d.On == decision.Redistribution {
			return d
		}
	}
	return nil
}

// addAsked lays down why digits are open in a piece in which others are decided.
func addAsked(in *Input, r *state.Result, open map[int]bool) {
	said := map[int]bool{}
	add := func(n int, cause, text string) {
		if !open[n] || said[n] {
			return
		}
		said[n] = true
		k := slices.IndexFunc(r.Asked, func(a state.Asked) bool { return a.Cause == cause && a.Said == text })
		if k < 0 {
			k = len(r.Asked)
			r.Asked = append(r.Asked, state.Asked{Cause: cause, Said: text})
		}
		r.Asked[k].Notes = append(r.Asked[k].Notes, n)
	}
	for i := range r.Contradictions {
		c := &r.Contradictions[i]
		for _, n := range c.Notes {
			add(n, c.Cause, c.Words())
		}
	}
	for i := range r.Unplaced {
		u := &r.Unplaced[i]
		for _, n := range u.Nearest {
			add(n, state.CauseMoved, fmt.Sprintf("the score changed: what %s decided on %s for %s in what was m. %s has no place (%s)",
				u.By, u.When, u.Pitch, u.Measure, u.Entry))
		}
	}
	if len(in.Decided.Deciding) == 0 {
		return
	}
	type place struct {
		line, measure int
	}
	decided := map[place]*decision.Decision{}
	for l := range in.Playing.Lines {
		for _, n := range in.Playing.Lines[l].Written {
			if d := in.Decided.Deciding[n]; d != nil && in.Bound[n].Finger() > 0 {
				decided[place{l, in.Score.Notes[n].Measure}] = d
			}
		}
	}
	for l := range in.Playing.Lines {
		for _, n := range in.Playing.Lines[l].Written {
			for _, m := range []int{0, -1, 1} {
				if d := decided[place{l, in.Score.Notes[n].Measure + m}]; d != nil {
					add(n, state.CauseBeside, fmt.Sprintf(
						"nobody has decided these yet; %s decided digits beside them on %s (%s)", d.By, d.When, d.Place()))
					break
				}
			}
		}
	}
}
