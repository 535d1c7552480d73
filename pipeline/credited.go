package pipeline

// thenAt has by note the fingers that follow on its digit in print.
func thenAt(w *PieceRun) [][]int {
	out := make([][]int, len(w.Score.Notes))
	for i := range out {
		if row := w.Rows[i]; len(row) > 1 && w.Policy.PrintsRows() {
			out[i] = row[1:]
		} else if then := w.Changes[i]; then > 0 {
			out[i] = []int{then}
		}
	}
	return out
}

// settledOnly reports whether nothing that is open is marked: for press, and
// where the composer's digits stand alone.
func settledOnly(w *PieceRun) bool { return w.Press || w.Policy.Digits() == "composer-only" }
