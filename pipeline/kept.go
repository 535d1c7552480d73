package pipeline

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/fingering"
)

// KeptDecision is a digit that was settled, as an edition brings it along:
// read without the decisions it was made with, it is settled still.
type KeptDecision struct {
	N       int         `json:"n"`
	Verb    decide.Verb `json:"verb"`
	Fingers []int       `json:"fingers,omitempty"`
	By      string      `json:"by"`
	Always  bool        `json:"always,omitempty"`
	Carried bool        `json:"carried,omitempty"`
}

// KeptRedistribution is a redistribution that was settled.
type KeptRedistribution struct {
	ID      string     `json:"id"`
	To      score.Hand `json:"to"`
	Why     string     `json:"why,omitempty"`
	Notes   []int      `json:"notes"`
	Fingers []int      `json:"fingers"`
}

// keepDecided adds to what an edition brings along all that was settled of its
// fingering, printed or not.
func keepDecided(kept *Kept, w *PieceRun) {
	for i := range w.Bound {
		if d := &w.Bound[i]; d.Verb != "" {
			kept.Decided = append(kept.Decided, KeptDecision{N: i, Verb: d.Verb, Fingers: d.Fingers, By: d.By, Always: d.Always, Carried: d.Carried})
		}
	}
	for i := range w.Decided.Redistributions {
		r := &w.Decided.Redistributions[i]
		k := KeptRedistribution{ID: r.ID, To: r.To, Why: r.Why, Notes: r.Notes}
		for _, f := range r.Fingers {
			k.Fingers = append(k.Fingers, int(f))
		}
		kept.Redistributions = append(kept.Redistributions, k)
	}
	kept.Declined = w.Decided.Declined
}

// settledBefore adds to a plan the redistributions that an edition brings
// along. Decisions that are there come first: one on a note of theirs takes
// their place.
func settledBefore(kept *Kept, plan *decide.Plan) {
	if kept == nil {
		return
	}
	fits := func(notes []int) bool {
		return len(notes) > 0 && !slices.ContainsFunc(notes, func(n int) bool { return n < 0 || n >= len(plan.Hands) })
	}
	declined := slices.Clone(plan.Declined)
	for i := range kept.Redistributions {
		k := &kept.Redistributions[i]
		if k.To == score.NoHand || len(k.Fingers) != len(k.Notes) || !fits(k.Notes) || slices.ContainsFunc(k.Notes, func(n int) bool {
			return plan.Hands[n] != score.NoHand || slices.ContainsFunc(declined, func(notes []int) bool { return slices.Contains(notes, n) })
		}) {
			continue
		}
		r := fingering.Redistribution{ID: k.ID, To: k.To, Reason: "decided", Decided: true, Why: k.Why, Notes: k.Notes}
		for j, n := range k.Notes {
			plan.Hands[n] = k.To
			r.Fingers = append(r.Fingers, fingering.Finger(k.Fingers[j]))
		}
		plan.Redistributions = append(plan.Redistributions, r)
	}
	slices.SortStableFunc(plan.Redistributions, func(a, b fingering.Redistribution) int { return a.Notes[0] - b.Notes[0] })
	for _, notes := range kept.Declined {
		if fits(notes) && !slices.ContainsFunc(plan.Declined, func(d []int) bool { return slices.Equal(d, notes) }) &&
			!slices.ContainsFunc(notes, func(n int) bool { return plan.Hands[n] != score.NoHand }) {
			plan.Declined = append(plan.Declined, notes)
		}
	}
}

// boundBefore settles the digits that an edition brings along as settled,
// wherever the decisions that are there say nothing of the note.
func boundBefore(w *PieceRun) {
	if w.Kept == nil {
		return
	}
	for _, k := range w.Kept.Decided {
		if k.N < 0 || k.N >= len(w.Bound) || w.Bound[k.N].Verb != "" || slices.ContainsFunc(k.Fingers, func(f int) bool { return f < 1 || f > 5 }) {
			continue
		}
		if slices.ContainsFunc(w.Decided.Contradictions, func(c decide.Contradiction) bool { return c.Note == k.N }) {
			continue
		}
		w.Bound[k.N] = decide.Digit{Verb: k.Verb, Fingers: k.Fingers, By: k.By, Always: k.Always, Carried: k.Carried}
	}
}
