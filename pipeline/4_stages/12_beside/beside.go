// Package beside is the stage that sets fingers beside the composer's digits.
package beside

import (
	"slices"

	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/11_suggest"
)

// Input is the suggestion and what it was made from.
type Input struct {
	Suggest    suggest.Input
	Suggestion *suggest.Suggestion
}

// Fingers finds, where the policy asks for it, what the engine would do were
// it not for the composer's digits: a passage that saves enough is offered
// beside them, whole (FACTS §5.4: rows of alternatives are never mixed). The
// fingers run parallel to Score.Notes, 0 for none; nil where the policy asks for
// none, or no digit of the composer's binds.
func Fingers(in Input) []int {
	ask := in.Suggest
	s := ask.Score
	when, saving := ask.Policy.BesideComposer()
	if when != "saving" {
		return nil
	}
	bound := func(i int) bool { return attribute.ComposersFinger(&s.Notes[i], ask.Whose[i]) > 0 }
	if !slices.ContainsFunc(indices(len(s.Notes)), bound) {
		return nil
	}
	kept, free := in.Suggestion, in.Suggestion
	if ask.Policy.Constrains() {
		ask.Free = true
		free = suggest.Suggest(ask)
	} else { // the suggestion goes its own way already
		ask.Policy = ask.Policy.Constraining()
		kept = suggest.Suggest(ask)
	}
	out := make([]int, len(s.Notes))
	for _, l := range in.Suggestion.Lines {
		var line []int
		for _, st := range ask.Playing.Line(l.Player, l.Hand).Strokes {
			line = append(line, st.Notes...)
		}
		differs := func(i int) bool {
			return free.Notes[i].Finger != kept.Notes[i].Finger && free.Notes[i].Finger > 0
		}
		for from := 0; from < len(line); from++ {
			to := from
			for to < len(line) && differs(line[to]) {
				to++
			}
			passage := line[from:to]
			// The step out of the passage is part of what it costs.
			through := line[from:min(to+1, len(line))]
			if slices.ContainsFunc(passage, bound) && effortOf(kept, through)-effortOf(free, through) >= saving {
				for _, i := range passage {
					if int(free.Notes[i].Finger) != int(in.Suggestion.Notes[i].Finger) || bound(i) {
						out[i] = int(free.Notes[i].Finger)
					}
				}
			}
			from = to
		}
	}
	return out
}

func effortOf(s *suggest.Suggestion, notes []int) (sum int) {
	for _, i := range notes {
		for _, e := range s.Notes[i].Effort {
			sum += e.Cost
		}
	}
	return sum
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}
