package pipeline

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/suggest"
	"fingerproof/pipeline/thin"
)

// ThinInput is what the stage that chooses the printed digits looks at.
func ThinInput(w *Way) thin.Input {
	c := w.Policy.Courtesy()
	in := thin.Input{
		Score: w.Score, Piano: w.Hands.Piano, Hand: w.Hands.Hand, Player: w.Hands.Player,
		Finger: fingers(w), Stands: stands(w), Must: make([]bool, len(w.Score.Notes)),
		Style: thin.Style{Digits: w.Policy.Digits(), Chords: w.Policy.ChordDigits(), First: c.First, RestQuarters: c.RestQuarters, System: c.System, Return: c.Return},
	}
	for i := range in.Must {
		n := &w.Suggestion.Notes[i]
		in.Must[i] = n.Substitution > 0 || len(n.Row) > 1
	}
	return in
}

// stands says at which notes a digit stands already that says the finger.
func stands(w *Way) []bool {
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
func SuggestFor(w *Way) { w.Suggestion = suggest.Suggest(w.SuggestInput()) }
