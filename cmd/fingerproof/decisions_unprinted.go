package main

import (
	"fmt"
	"io"
	"slices"

	"fingerproof/pipeline/3_records/decision"
)

// sayUnprinted names the digits that an editor keyed in otherwise than they were suggested and that the house style leaves out of
// print all the same, since a reader finds them without: whoever changes a digit expects to see it.
func sayUnprinted(out io.Writer, f *decision.Finder, after *withDecisions) {
	changed := map[int]bool{}
	for i := range after.add {
		if d := &after.add[i]; d.Verb == decision.Amend && d.On == decision.Notes && d.Print != decision.Always {
			for _, n := range notesOf(f, d) {
				changed[n] = true
			}
		}
	}
	if len(changed) == 0 {
		return
	}
	then, err := after.run()
	if err != nil {
		return // said by sayMade
	}
	byMeasure, measures := map[int][]int{}, []int{}
	for i := range then.Result.Notes {
		note := &then.Result.Notes[i]
		n := note.N
		if !changed[n] || note.Printed || note.Tied || slices.Equal(suggestedAt(after.p.run, n), then.Bound[n].Written()) {
			continue
		}
		at := then.Score.Notes[n].Measure
		if byMeasure[at] == nil {
			measures = append(measures, at)
		}
		byMeasure[at] = append(byMeasure[at], n)
	}
	if len(measures) == 0 {
		return
	}
	slices.Sort(measures)
	fmt.Fprintln(out, "decided, and left out of print by the house style (print behind the digits has them printed always):")
	p := &decidedPiece{run: then}
	for _, at := range measures {
		notes := byMeasure[at]
		fmt.Fprintf(out, "  m. %s: %s\n", then.Score.Measures[at].Number, p.chords(notes, func(k int) []int { return then.Bound[notes[k]].Written() }))
	}
}
