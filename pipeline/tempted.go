package pipeline

import (
	"slices"

	"fingerproof/pipeline/suggest"
)

// Tempted is a passage of the text whose digits are what serves best at the
// tempo of practice and cost much more at the tempo that is marked.
type Tempted struct {
	Notes   []int // indices into Score.Notes, in the order of playing
	Fingers []int // what would serve best at the tempo
}

// least is how many digits of a passage must be those of the practice: one may
// be chance.
const least = 2

// findTempted tries the digits of the text at the marked tempo. They bind the
// search, which cannot doubt what it must keep: so it is run once more without
// them, and where its best way in practice collapses and is the way the digits
// go, they were chosen slowly. Nothing is tried where the tempo is inferred.
func findTempted(w *Way) error {
	w.Tempted = nil
	bound := func(i int) bool { return w.Hands.Piano[i] && w.Suggestion.Notes[i].Given > 0 && standingDigit(w, i) > 0 }
	if !w.Tempo.Marked || !slices.ContainsFunc(indices(len(w.Score.Notes)), bound) {
		return nil
	}
	in := w.SuggestInput()
	in.Free = true
	free := suggest.Suggest(in)
	for _, c := range free.Collapses {
		var t Tempted
		digits, others := 0, 0
		for _, s := range c.Steps {
			if standingDigit(w, s.ID) == int(free.Notes[s.ID].Finger) {
				continue // where a return is fingered alike, it is the tempo's after all
			}
			t.Notes = append(t.Notes, s.ID)
			t.Fingers = append(t.Fingers, int(free.Notes[s.ID].Finger))
			switch standingDigit(w, s.ID) {
			case 0:
			case int(s.Finger):
				digits++
			default:
				others++
			}
		}
		if digits >= least && others == 0 {
			w.Tempted = append(w.Tempted, t)
		}
	}
	return nil
}

// standingDigit is the finger that a digit of the text gives a note, 0 for none.
func standingDigit(w *Way, i int) int {
	for _, ind := range w.Score.Notes[i].Indications {
		if !ind.Alternate && !ind.Hidden && !ind.Substitution && len(ind.Fingers) > 0 {
			return ind.Fingers[0]
		}
	}
	return 0
}
