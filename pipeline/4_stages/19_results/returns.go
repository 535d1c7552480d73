package results

import (
	"fmt"
	"slices"

	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/engine"
	"fingerproof/rules/fingering"
	"fingerproof/rules/hand"
	"fingerproof/rules/parallel"
)

// returnsOf lays down the concordance: what returns, how far it is fingered alike, and why not where it is not.
func returnsOf(in *Input) (out []state.Return) {
	for _, r := range in.Returns {
		n := len(r.Later)
		entry := state.Return{
			Kind: r.Kind.String(), Shift: r.Shift, Notes: n,
			First: passageOf(in, r.First[0], r.First[n-1]), Later: passageOf(in, r.Later[0], r.Later[n-1]),
		}
		for k := range r.Later {
			entry.Apart = entry.Apart || in.Apart != nil && in.Apart[r.Later[k]]
			a, b := in.Suggestion.Notes[r.First[k]].Finger, in.Suggestion.Notes[r.Later[k]].Finger
			if a == b {
				entry.Alike++
				continue
			}
			entry.Differ = append(entry.Differ, state.Difference{
				First: r.First[k], Later: r.Later[k], Fingers: [2]int{int(a), int(b)},
				Why: whyOtherwise(in, r, k),
			})
		}
		out = append(out, entry)
	}
	return out
}

func passageOf(in *Input, first, last int) state.ReturnPassage {
	a, b := &in.Score.Notes[first], &in.Score.Notes[last]
	return state.ReturnPassage{
		Hand: in.Playing.Hand(first), Measure: in.Score.Measures[a.Measure].Number, MeasureIndex: a.Measure,
		ToMeasure: in.Score.Measures[b.Measure].Number, ToMeasureIndex: b.Measure,
		Beat: in.Score.Beat(a.Measure, a.Onset), From: first, To: last,
	}
}

// givenHere says what gives a finger: the text, an editor, or another source.
func givenHere(in *Input, n, finger int) string {
	switch d := decidedAt(in, n); {
	case d != nil && d.Carried:
		return fmt.Sprintf("%d is carried here from where the passage was decided by %s", finger, d.By)
	case d != nil:
		return fmt.Sprintf("%s decided %d here", d.By, finger)
	case len(in.Score.Notes[n].Indications) > 0:
		return fmt.Sprintf("the source has %d here", finger)
	}
	return fmt.Sprintf("a witness has %d here", finger)
}

// decidedAt is the decision that gives a note its finger, nil where none does.
func decidedAt(in *Input, n int) *decide.Digit {
	if n < len(in.Bound) && in.Bound[n].Finger() > 0 {
		return &in.Bound[n]
	}
	return nil
}

// whyOtherwise says in an editor's words why note k of a return has another finger than the first time.
func whyOtherwise(in *Input, r parallel.Return, k int) string {
	first, later := r.First[k], r.Later[k]
	a, b := &in.Suggestion.Notes[first], &in.Suggestion.Notes[later]
	switch {
	case in.Apart != nil && in.Apart[later]:
		return "declared to differ"
	case b.Given > 0:
		return givenHere(in, later, b.Given)
	case b.Finger == 0 || a.Finger == 0:
		return "more keys than fingers"
	case a.Given > 0 && !hasChoice(b.Choices, a.Finger):
		return fmt.Sprintf("the %d given the first time is not to be had here", a.Given)
	case r.Kind != parallel.Exact && coloursDiffer(in, r, k):
		return "white and black keys lie otherwise"
	}
	for _, near := range [...]int{k - 1, k + 1, k - 2, k + 2} {
		if near >= 0 && near < len(r.Later) && in.Suggestion.Notes[r.Later[near]].Given > 0 &&
			in.Suggestion.Notes[r.First[near]].Finger != in.Suggestion.Notes[r.Later[near]].Finger {
			return "a digit given close by asks for it"
		}
	}
	for _, c := range b.Choices {
		if c.Finger == a.Finger {
			return fmt.Sprintf("the first finger would cost %.1f more where the hand comes from and goes to",
				float64(c.Regret)/1000)
		}
	}
	return "the hand comes from elsewhere, or goes elsewhere"
}

// coloursDiffer reports whether the keys about note k are white in one passage and black in the other. Mirrored
// keys are compared as the keyboard mirrors itself.
func coloursDiffer(in *Input, r parallel.Return, k int) bool {
	for i := max(k-2, 0); i <= min(k+2, len(r.Later)-1); i++ {
		a, b := fingering.HandOf(in.Playing.Hand(r.First[i])), fingering.HandOf(in.Playing.Hand(r.Later[i]))
		first, later := in.Score.Notes[r.First[i]].Midi, in.Score.Notes[r.Later[i]].Midi
		if hand.Black(a.Mirror(first)) != hand.Black(b.Mirror(later)) {
			return true
		}
	}
	return false
}

func hasChoice(choices []engine.Choice, f fingering.Finger) bool {
	return slices.ContainsFunc(choices, func(c engine.Choice) bool { return c.Finger == f })
}
