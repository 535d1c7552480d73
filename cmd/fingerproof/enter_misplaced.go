package main

import (
	"fmt"
	"io"

	"fingerproof/corpus/score"
	"fingerproof/pipeline"
	"fingerproof/pipeline/3_records/decision"
)

// sayMisplaced says of digits that were keyed in which one hand cannot strike at once: mostly the keys of a chord were taken
// from the wrong end. They are added all the same; who means them has heard it.
func sayMisplaced(out io.Writer, run *pipeline.PieceRun, f *decision.Finder, decided []decision.Decision) {
	for i := range decided {
		d := &decided[i]
		if d.On != decision.Notes || d.Verb != decision.Amend {
			continue
		}
		fingers := map[int]int{}
		var notes []int
		for k := range d.Notes {
			if n, _, _ := f.Find(&d.Notes[k]); n >= 0 && len(d.Notes[k].Fingers) > 0 && !run.Playing.Rolled(n) {
				fingers[n], notes = d.Notes[k].Fingers[0], append(notes, n)
			}
		}
		for _, low := range notes {
			for _, high := range notes {
				a, b := &run.Score.Notes[low], &run.Score.Notes[high]
				if run.Playing.Stroke(low) == nil || run.Playing.Stroke(low) != run.Playing.Stroke(high) || b.Midi-a.Midi <= 2 {
					continue // so near a finger may lie over its neighbour
				}
				hand := run.Playing.Hand(low)
				if x, y := fingers[low], fingers[high]; x == y || (x < y) != (hand == score.Right) {
					fmt.Fprintf(out, "m. %s: %d on %s and %d on %s, struck at once by the %s, cannot be; digits of a chord are keyed from its lowest key, with + between them\n",
						run.Score.Measures[a.Measure].Number, x, a.Pitch, y, b.Pitch, hand.Words())
				}
			}
		}
	}
}
