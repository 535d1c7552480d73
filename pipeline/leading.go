package pipeline

import (
	"fmt"

	"fingerproof/corpus/score"
)

// findLeading marks the notes that carry the line: those of the voice that the editor names in the manifest, and notes that a
// tenuto or an accent sets apart from what their hand strikes with them.
func findLeading(w *PieceRun) error {
	w.Leading = make([]bool, len(w.Score.Notes))
	for i, together := range w.Together {
		if len(together) > 0 && together[0] == i { // each stroke once
			markedLead(w, together)
		}
	}
	for _, l := range w.Piece.Leading {
		from, to, ok := measuresOf(w, l.Measures)
		if !ok {
			return fmt.Errorf("%s: leading names %s, which the score does not have\nhint: measures by their printed numbers, the first one first", w.Piece.Score, l.Measures)
		}
		found := false
		for i, together := range w.Together {
			n := &w.Score.Notes[i]
			if len(together) == 0 || n.Measure < from || n.Measure > to || w.Hands.Hand[i].String() != l.Hand {
				continue
			}
			lead := n.Voice == l.Voice
			switch l.Voice {
			case "upper":
				lead = together[len(together)-1] == i
			case "lower":
				lead = together[0] == i
			}
			w.Leading[i] = lead // the editor's word goes before marks
			found = found || lead
		}
		if !found {
			return fmt.Errorf("%s: leading names voice %q of hand %s in %s, and no note there is of that voice\nhint: upper, lower, or the number of the voice in the score", w.Piece.Score, l.Voice, l.Hand, l.Measures)
		}
	}
	return nil
}

// leadMarks are the marks that let one voice come out.
const leadMarks = score.Tenuto | score.Accent | score.StrongAccent

// markedLead sets apart the notes of one stroke that alone of their voices carry a mark.
func markedLead(w *PieceRun, together []int) {
	marked := map[string]bool{}
	voices := map[string]bool{}
	for _, i := range together {
		voices[w.Score.Notes[i].Voice] = true
		if w.Score.Notes[i].Marks&leadMarks != 0 {
			marked[w.Score.Notes[i].Voice] = true
		}
	}
	if len(marked) != 1 || len(voices) < 2 {
		return
	}
	for _, i := range together {
		if marked[w.Score.Notes[i].Voice] {
			w.Leading[i] = true
		}
	}
}
