// Package collapsesattempo checks what becomes of a fingering at the tempo.
package collapsesattempo

import (
	"fmt"
	"strconv"
	"strings"

	"fingerproof/rules/lint"
)

// Rule: a fingering is best in practice and collapses at the tempo.
var Rule = &lint.Rule{
	Name:  "collapses-at-tempo",
	Title: "a fingering is best in practice and collapses at the tempo",
	Checks: "Passages in which the digits that stand are those that serve best at the tempo of practice " +
		"(`tempo.practice`), and cost much more at the tempo of the piece. Where the tempo is inferred it is at " +
		"most a note.",
	Why:      "What is learnt slowly has to be learnt again. A fingering should be tried fast before it is fixed.",
	Before:   "a run fingered with jumps that vanish at half speed",
	After:    "the fingering that holds at the tempo",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Options:  []string{"tempo.practice"},
	Run:      run,
}

func run(p *lint.Inspection) {
	for _, c := range p.Collapses {
		// Told are the notes from the first to the last whose digit stands: what the program goes on with nobody printed.
		first, last := -1, -1
		for k, n := range c.Notes {
			if p.Digit(n) > 0 && p.Digit(n) == c.Fingers[k] {
				last = k
				if first < 0 {
					first = k
				}
			}
		}
		if first < 0 {
			continue
		}
		c.Notes, c.Fingers = c.Notes[first:last+1], c.Fingers[first:last+1]
		from, to := p.Score.Notes[c.Notes[0]].Pitch, p.Score.Notes[c.Notes[len(c.Notes)-1]].Pitch
		f := lint.Finding{
			Severity: p.AtTempo(), Notes: c.Notes, Fix: "try them at the tempo, or delete them and see what is suggested",
			Message: fmt.Sprintf("the digits %s from %s to %s work in slow practice, but not at the tempo", row(c.Fingers),
				from, to),
		}
		if len(c.Notes) == 1 {
			f.Message = fmt.Sprintf("the %d on %s works in slow practice, but not at the tempo", c.Fingers[0], from)
		}
		p.Report(f)
	}
}

// row writes fingers as they are said: 1-3-2.
func row(fingers []int) string {
	const most = 8
	var out []string
	for _, f := range fingers[:min(len(fingers), most)] {
		out = append(out, strconv.Itoa(f))
	}
	if len(fingers) > most {
		out = append(out, "…")
	}
	return strings.Join(out, "-")
}
