package review

import (
	"slices"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
)

// rollsIn lists the chords of a passage that are offered to be rolled. Such an offer makes no passage of its own: it is
// judged where the grip is, and may be passed over.
func rollsIn(r *state.Result, p *Passage) (out []int) {
	if p.Redistribution >= 0 {
		return nil
	}
	for i := range r.Rolls {
		offered := &r.Rolls[i]
		if !offered.Decided && !slices.ContainsFunc(offered.Notes, func(n int) bool { return !slices.Contains(p.Notes, n) }) {
			out = append(out, i)
		}
	}
	return out
}

// Roll gives the decision by which an editor has an offered chord rolled.
func Roll(r *state.Roll, f *decision.Finder, direction, by, when string) decision.Decision {
	d := decision.Decision{
		Verb: decision.Take, On: decision.Roll, By: by, When: when, Direction: direction, Reason: r.Reason,
	}
	for _, n := range r.Notes {
		d.Notes = append(d.Notes, f.Ref(n, nil))
	}
	return d
}
