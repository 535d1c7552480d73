// Package textdiffersfromwitness checks the text against its witnesses.
package textdiffersfromwitness

import (
	"fmt"

	"fingerproof/corpus/wording"
	"fingerproof/rules/lint"
)

// Rule: the text differs from a witness.
var Rule = &lint.Rule{
	Name:  "text-differs-from-witness",
	Title: "the text differs from a witness",
	Checks: "Struck notes of the text that an aligned witness has otherwise or not at all, and notes of the " +
		"witness that the text lacks. Differences of barring, of staves and of ties that sound the same are left " +
		"alone. One finding a measure and witness.",
	Why: "A difference may be a correction that the commentary owes a word, or a slip that changes what is " +
		"fingered.",
	Before:   "witness A: C5 E5; the text: C5 Eb5",
	After:    "C5 E5, or a word in the commentary",
	Severity: lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	for w := range p.Witnesses {
		witness := &p.Witnesses[w]
		count, first := map[int]int{}, map[int]int{}
		at := map[int]string{}
		note := func(measure, n int, what string) {
			if count[measure]++; count[measure] == 1 {
				first[measure], at[measure] = n, what
			}
		}
		for n := range p.Score.Notes {
			t := &p.Score.Notes[n]
			if !p.Playing.Plays(n) || !t.Struck() || witness.Covered[n] {
				continue
			}
			switch m := witness.Note[n]; {
			case m < 0:
				note(t.Measure, n, fmt.Sprintf("lacks the %s", t.Pitch))
			case witness.Score.Notes[m].Midi != t.Midi:
				note(t.Measure, n, fmt.Sprintf("has %s where the text has %s", witness.Score.Notes[m].Pitch, t.Pitch))
			}
		}
		last := -1 // the last note of the text that the witness has, before the one looked at
		for m := range witness.Score.Notes {
			t := &witness.Score.Notes[m]
			switch {
			case witness.Back[m] >= 0:
				last = witness.Back[m]
			case t.Struck() && !t.Cue && !t.Hidden && last >= 0 && !witness.BackCovered[m]:
				note(p.Score.Notes[last].Measure, last, fmt.Sprintf("has the %s, which the text lacks", t.Pitch))
			}
		}
		for measure := range p.Score.Measures {
			if count[measure] == 0 {
				continue
			}
			more := ""
			if count[measure] > 1 {
				more = fmt.Sprintf(", and differs at %s of the measure", wording.Count(count[measure]-1, "more note"))
			}
			p.Report(lint.Finding{
				Notes: []int{first[measure]}, Message: "witness " + witness.Siglum + " " + at[measure] + more,
				Fix: "check it, and mention it in the commentary",
			})
		}
	}
}
