package pipeline

import "fingerproof/corpus/score"

// changeAt is the finger that a note's key is changed to while it is held, 0
// for none. On a digit of a witness, or of an editor as an edition brings it
// along, it is theirs and no one else's: a change worked out here would pass
// for what they wrote.
func changeAt(w *PieceRun, i int) int {
	if own := asCredited(w, i); own != nil && w.Suggestion.Notes[i].Row == nil {
		if len(own) > 1 {
			return own[1]
		}
		return 0
	}
	return int(w.Suggestion.Notes[i].Substitution)
}

// rowAt is the row of fingers of a sign, by the same rule.
func rowAt(w *PieceRun, i int) []int {
	row := w.Suggestion.Notes[i].Row
	own := asCredited(w, i)
	switch {
	case row == nil || own == nil:
		return row
	case len(own) > 1:
		return own
	case w.Credits[i].Who == score.Editor: // who settled the first finger knew the row
		return row
	}
	return nil
}

// asCredited is a digit that the text does not have as it stands where it is
// taken from, with the fingers that follow on it; nil where it is worked out
// here or was settled by a decision.
func asCredited(w *PieceRun, i int) []int {
	if w.Credits == nil || w.Sources == nil || w.Credits[i].Who == score.Open || w.Bound[i].Finger() > 0 {
		return nil
	}
	return w.Credits[i].AsIn(w.Sources.Readings[i], int(w.Suggestion.Notes[i].Finger))
}

// thenAt has by note the fingers that follow on its digit in print.
func thenAt(w *PieceRun) [][]int {
	out := make([][]int, len(w.Score.Notes))
	for i := range out {
		if row := rowAt(w, i); len(row) > 1 && w.Policy.PrintsRows() {
			out[i] = row[1:]
		} else if then := changeAt(w, i); then > 0 {
			out[i] = []int{then}
		}
	}
	return out
}

// settledOnly reports whether nothing that is open is marked: for press, and
// where the composer's digits stand alone.
func settledOnly(w *PieceRun) bool { return w.Press || w.Policy.Digits() == "composer-only" }
