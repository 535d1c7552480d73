// Package repetitiontoofast checks repetitions against the instrument.
package repetitiontoofast

import (
	"fmt"

	"fingerproof/rules/lint"
)

// Rule: one finger repeats a key faster than it can.
var Rule = &lint.Rule{
	Name:  "repetition-too-fast",
	Title: "one finger repeats a key faster than it can",
	Checks: "The same digit on one key struck again, against the time that one finger and the instrument of the " +
		"policy need for it. Where the tempo is inferred from a word it is at most a note; where a mark " +
		"counts quarters and three eighths are the beat, nothing is said.",
	Why:      "At the tempo the repetition stalls. Editors change fingers (3 2 1) on fast repeated notes.",
	Before:   "sixteenths at quarter = 152: C5 with 3, C5 with 3",
	After:    "C5 with 3, C5 with 2",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Options:  []string{"instrument"},
	Run:      run,
}

func run(p *lint.Inspection) {
	if p.TempoDoubtful() {
		return
	}
	p.Successions(func(n, m int) {
		f, gap := p.Digit(m), p.Gap(n, m)
		if f == 0 || p.HoldingFinger(n) != f || p.Score.Notes[n].Midi != p.Score.Notes[m].Midi || gap <= 0 ||
			gap >= p.RepeatMicros {
			return
		}
		if p.Score.Notes[n].Grace > 0 || p.Score.Notes[m].Grace > 0 {
			return
		}
		p.Report(lint.Finding{
			Severity: p.AtTempo(), Notes: []int{m, n},
			Message: fmt.Sprintf("%d strikes %s again after %d ms", f, p.Score.Notes[m].Pitch, gap/1000),
			Fix:     "change fingers on the repeated key, as in 3 2 1",
		})
	})
}
