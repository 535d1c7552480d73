package main

import (
	"fmt"
	"io"
	"slices"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/3_records/state"
)

// sayGone names findings that lines let stand and that are not found any more with the digits of the same lines: whoever let them
// stand would be told by the next run that they are gone, and not why.
func sayGone(out io.Writer, f *decision.Finder, after *withDecisions) {
	if !slices.ContainsFunc(after.add, func(d decision.Decision) bool { return d.On == decision.Finding && d.Verb == decision.Stet }) {
		return
	}
	then, err := after.run()
	if err != nil {
		return // said by sayMade
	}
	p := after.p.run
	for i := range after.add {
		d := &after.add[i]
		if d.On != decision.Finding || d.Verb != decision.Stet {
			continue
		}
		notes := notesOf(f, d)
		of := func(found *state.Finding) bool {
			return found.Rule == d.Rule && (len(found.Notes) == 0 || slices.ContainsFunc(found.Notes, func(n int) bool { return slices.Contains(notes, n) }))
		}
		was := slices.IndexFunc(p.Result.Findings, func(found state.Finding) bool { return of(&found) })
		stands := slices.ContainsFunc(then.Result.Stets, func(s state.Stet) bool { return !s.NotFound && of(&s.Finding) })
		if was < 0 || stands || slices.ContainsFunc(then.Result.Findings, func(found state.Finding) bool { return of(&found) }) {
			continue
		}
		fmt.Fprintf(out, "m. %s: %s is not found any more with the digits of these lines: nothing is left there to let stand\n",
			p.Result.Findings[was].Measure, d.Rule)
	}
}
