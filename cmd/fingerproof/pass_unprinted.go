package main

import (
	"fmt"
	"slices"

	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_services/review"
)

// ownUnprinted counts the digits that editors set themselves and that the house style leaves out of print, and names their measures:
// who passes the piece may take them for printed. What was taken as it was suggested nobody set.
func ownUnprinted(w *pipeline.PieceRun) string {
	n, measures := 0, []int(nil)
	for i := range w.Result.Notes {
		note := &w.Result.Notes[i]
		if d := &w.Bound[note.N]; d.Verb != decision.Amend || d.Carried || note.Printed || note.Tied {
			continue
		}
		n++
		measures = append(measures, note.MeasureIndex)
	}
	if n == 0 {
		return ""
	}
	slices.Sort(measures)
	return fmt.Sprintf("; set by an editor and left out of print by the house style: %s (%s; small on the page; print behind them in a line keyed in prints them)",
		wording.Count(n, "digit"), review.MeasureList(w.Score, slices.Compact(measures)))
}
