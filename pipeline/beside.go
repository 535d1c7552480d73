package pipeline

import (
	"cmp"
	"slices"

	"fingerproof/pipeline/4_stages/04_attribute"
	"fingerproof/pipeline/4_stages/11_suggest"
)

// setBeside finds, where the policy asks for it, what the engine would do were
// it not for the composer's digits: a passage that saves enough is offered
// beside them, whole (FACTS §5.4: rows of alternatives are never mixed).
func setBeside(w *PieceRun) error {
	when, saving := w.Policy.BesideComposer()
	if when != "saving" {
		return nil
	}
	bound := func(i int) bool { return composersDigit(w, i) > 0 }
	if !slices.ContainsFunc(indices(len(w.Score.Notes)), bound) {
		return nil
	}
	in, kept, free := w.SuggestInput(), w.Suggestion, w.Suggestion
	if w.Policy.Constrains() {
		in.Free = true
		free = suggest.Suggest(in)
	} else { // the suggestion goes its own way already
		in.Policy = w.Policy.Constraining()
		kept = suggest.Suggest(in)
	}
	w.Beside = make([]int, len(w.Score.Notes))
	for _, l := range w.Suggestion.Lines {
		var line []int
		for i := range w.Score.Notes {
			if w.Hands.Piano[i] && w.Hands.Player[i] == l.Player && w.Hands.Hand[i] == l.Hand && w.Score.Notes[i].TiedFrom < 0 {
				line = append(line, i)
			}
		}
		slices.SortStableFunc(line, func(a, b int) int {
			return cmp.Or(w.Score.At(a).Cmp(w.Score.At(b)), cmp.Compare(w.Score.Notes[a].Midi, w.Score.Notes[b].Midi))
		})
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
					if int(free.Notes[i].Finger) != int(w.Suggestion.Notes[i].Finger) || bound(i) {
						w.Beside[i] = int(free.Notes[i].Finger)
					}
				}
			}
			from = to
		}
	}
	return nil
}

// composersDigit is the finger that a digit of the composer's gives a note, 0 for none.
func composersDigit(w *PieceRun, i int) int {
	return attribute.ComposersFinger(&w.Score.Notes[i], w.Whose[i])
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

// besideAllowed reports whether an editor's digit may stand beside the composer's.
func besideAllowed(w *PieceRun) bool {
	when, _ := w.Policy.BesideComposer()
	return when != "never"
}
