package pipeline

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/11_suggest"
	"fingerproof/pipeline/4_stages/15_thin"
	"fingerproof/pipeline/4_stages/16_mark"
)

// ThinInput is what the stage that chooses the printed digits looks at.
func ThinInput(w *PieceRun) thin.Input {
	c := w.Policy.Courtesy()
	in := thin.Input{
		Score: w.Score, Piano: w.Hands.Piano, Hand: w.Hands.Hand, Player: w.Hands.Player,
		Finger: fingers(w), Stands: stands(w), Must: make([]bool, len(w.Score.Notes)), Returns: w.Returns,
		Style: thin.Style{Digits: w.Policy.Digits(), Chords: w.Policy.ChordDigits(), First: c.First, RestQuarters: c.RestQuarters, System: c.System, Return: c.Return},
	}
	second := alternatives(w) // the first stands with it: a lone digit in parentheses is none's alternative
	for i := range in.Must {
		if w.Policy.Digits() == "composer-only" { // those that witnesses have are the composer's as well
			in.Must[i] = printsWitness(w, i) && w.Credits[i].Who == score.Composer
			continue
		}
		in.Must[i] = second[i] > 0 || w.Changes[i] > 0 || len(w.Rows[i]) > 1 && w.Policy.PrintsRows() || printsWitness(w, i) || w.Bound[i].Always && !standsAlready(&w.Score.Notes[i], w.Bound[i].Fingers)
	}
	return in
}

// printsWitness reports whether the policy prints a digit because a witness has it.
func printsWitness(w *PieceRun, i int) bool {
	if w.Credits == nil || len(w.Credits[i].Sigla) == 0 {
		return false
	}
	switch w.Policy.WitnessPrints() {
	case "composer":
		return w.Credits[i].Who == score.Composer
	case "all":
		return true
	}
	return false
}

// stands says at which notes a digit stands already that says the finger.
func stands(w *PieceRun) []bool {
	out := make([]bool, len(w.Score.Notes))
	for i := range w.Score.Notes {
		for _, ind := range w.Score.Notes[i].Indications {
			if !ind.Alternate && !ind.Hidden && !ind.Substitution && len(ind.Fingers) > 0 && ind.Fingers[0] == int(w.Suggestion.Notes[i].Finger) {
				out[i] = true
			}
		}
	}
	return out
}

// WithoutDigits is the score with every digit taken out of its text: for
// measurements that look at what editors chose.
func WithoutDigits(s *score.Score) *score.Score {
	out := *s
	out.Notes = slices.Clone(s.Notes)
	for i := range out.Notes {
		out.Notes[i].Indications = nil
	}
	return &out
}

// SuggestFor fingers a way that knows its score, hands and tempo anew.
func SuggestFor(w *PieceRun) { w.Suggestion = suggest.Suggest(w.SuggestInput()) }

// markInput is what the stage that marks looks at.
func markInput(w *PieceRun) mark.Input {
	n := len(w.Score.Notes)
	in := mark.Input{
		Score: w.Score, Whose: w.Whose, Hand: w.Hands.Hand, Finger: fingers(w), Print: w.Print, Policy: w.Policy,
		Substitution: make([]int, n), Row: make([][]int, n), Credit: make([]mark.Credit, n),
	}
	for i := range n {
		in.Substitution[i], in.Row[i] = w.Changes[i], w.Rows[i]
		in.Credit[i] = mark.Credit{Who: w.Credits[i].Who, Single: w.Credits[i].Single}
	}
	in.Alternatives = alternatives(w)
	return in
}

// alternatives are the fingers that are printed beside others, by note; 0 for
// none. All of them are open.
func alternatives(w *PieceRun) []int {
	out := make([]int, len(w.Score.Notes))
	if settledOnly(w) {
		return out
	}
	copy(out, w.Beside)
	if w.Policy.PrintsSmallerHand() {
		for _, p := range w.Suggestion.Smaller {
			for k, note := range p.Notes {
				if p.Fingers[k] != w.Suggestion.Notes[note].Finger && w.Score.Notes[note].TiedFrom < 0 {
					out[note] = int(p.Fingers[k])
				}
			}
		}
	}
	return out
}
