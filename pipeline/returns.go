package pipeline

import (
	"fmt"

	"fingerproof/corpus"
	"fingerproof/rules/parallel"
)

// findReturns looks for passages that come back in the lines of each hand.
func findReturns(w *PieceRun) error {
	var err error
	if w.Apart, err = apartOf(w); err != nil {
		return err
	}
	w.Returns = parallel.Find(w.Score, w.Playing)
	return nil
}

// apartOf marks the notes of measures that the manifest declares to be fingered for themselves.
func apartOf(w *PieceRun) ([]bool, error) {
	if len(w.Piece.ReturnsDiffer) == 0 {
		return nil, nil
	}
	out := make([]bool, len(w.Score.Notes))
	for _, r := range w.Piece.ReturnsDiffer {
		from, to, ok := measuresOf(w, r)
		if !ok {
			return nil, fmt.Errorf("%s: returns_differ names %s, which the score does not have\nhint: measures by their printed numbers, the first one first", w.Piece.Score, r)
		}
		for i := range w.Score.Notes {
			if m := w.Score.Notes[i].Measure; m >= from && m <= to {
				out[i] = true
			}
		}
	}
	return out, nil
}

// measuresOf finds measures by their printed numbers.
func measuresOf(w *PieceRun, r corpus.Measures) (from, to int, ok bool) {
	from, to = -1, -1
	for i := range w.Score.Measures {
		if number := w.Score.Measures[i].Number; number == r.From && from < 0 {
			from = i
		}
		if w.Score.Measures[i].Number == r.To {
			to = i
		}
	}
	return from, to, from >= 0 && to >= from
}
