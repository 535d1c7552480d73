// Package widespan checks for spans at the edge of the hand.
package widespan

import (
	"fmt"

	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
)

// Rule: a span is at the edge of the hand.
var Rule = &lint.Rule{
	Name:  "wide-span",
	Title: "a span is at the edge of the hand",
	Checks: "Every two digits that stand or were decided on keys struck together: how much of the widest span of that pair of " +
		"fingers they take, in the hand of the policy. Rolled chords are left alone.",
	Why: "The hand can take it, but not with ease, not fast and not for long. Just within reach is where strain " +
		"begins; a smaller grip, a roll or the other hand may serve better.",
	Before:   "right hand: C4 with 1 and D5 with 5 struck together, fingered for the ninth hand, wide from 97 percent",
	After:    "the D5 rolled, or the C4 left to the left hand",
	Severity: lint.Note,
	Since:    "0.2",
	Options:  []string{"lint_options.wide_span", "hand", "span_mm"},
	Run:      run,
}

func run(p *lint.Inspection) {
	p.BlockChords(func(chord []int) {
		low, high, widest := lint.GreatestPair(chord, func(a, b int) int { return taken(p, a, b) })
		if widest < p.Options.WideSpan || widest > 100 || p.Options.WideSpan == 0 {
			return // beyond the hand is another rule's matter
		}
		if st := p.Playing.Stroke(low); p.MayBeOthers(st, low) || p.MayBeOthers(st, high) {
			return
		}
		p.Report(lint.Finding{
			Notes: []int{low, high},
			Message: fmt.Sprintf(
				"%s with %d and %s with %d take %d percent of what the %s can span", p.Score.Notes[low].Pitch,
				p.AskedFinger(low), p.Score.Notes[high].Pitch, p.AskedFinger(high), widest, p.HandName,
			),
			Fix: "roll it, give a note to the other hand, or let it stand",
		})
	})
}

// taken is how much of the pair's widest span two digits take, in percent.
func taken(p *lint.Inspection, low, high int) int {
	a, b := p.AskedFinger(low), p.AskedFinger(high)
	if a == 0 || b == 0 || a == b {
		return 0
	}
	return int(100 * hand.Distance(p.Score.Notes[low].Midi, p.Score.Notes[high].Midi) / p.Profile.Practical(a, b))
}
