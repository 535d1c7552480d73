// Package reachbelowshare checks how many pianists can take a grip.
package reachbelowshare

import (
	"fmt"

	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
)

// Rule: too few pianists can take a grip.
var Rule = &lint.Rule{
	Name:  "reach-below-share",
	Title: "too few pianists can take a grip",
	Checks: "Every two fingers on keys struck together, as worked out or as they stand: how many adult pianists " +
		"can take them, by published hand spans, against the share that the policy asks for. Rolled chords are " +
		"left alone.",
	Why: "An edition is fingered for as many hands as possible. Where half of them cannot take a grip, an " +
		"alternative or a word belongs beside it.",
	Before:   "right hand: C4 with 1 and E5 with 5 struck together; a policy that asks for half of all pianists",
	After:    "the E5 rolled, or an alternative printed beside it",
	Severity: lint.Warning,
	Since:    "0.2",
	Options:  []string{"lint_options.reach_share"},
	Run:      run,
}

// everyone is all pianists, counted in ten thousand as hand.Reach counts.
const everyone = 10000

func run(p *lint.Inspection) {
	if p.Options.ReachShare == 0 {
		return
	}
	p.BlockChords(func(chord []int) {
		low, high, lack := lint.GreatestPair(chord, func(a, b int) int { return lacking(p, a, b) })
		reach := everyone - lack
		if low < 0 || reach >= 100*p.Options.ReachShare ||
			!p.FitsHand(
				p.Playing.Hand(low), p.Score.Notes[low].Midi, p.Score.Notes[high].Midi, p.Finger[low], p.Finger[high],
			) {
			return // beyond the policy's own hand is another rule's matter
		}
		p.Report(lint.Finding{
			Notes: []int{low, high},
			Message: fmt.Sprintf(
				"%s with %d and %s with %d: about %d in a hundred pianists reach it, the policy asks for %d",
				p.Score.Notes[low].Pitch, p.Finger[low], p.Score.Notes[high].Pitch, p.Finger[high], reach/100,
				p.Options.ReachShare,
			),
			Fix: "print an alternative, roll it, or give a note to the other hand",
		})
	})
}

// lacking is how many in ten thousand pianists do not take two fingers of a
// chord. Fingers that were worked out where the hand takes no grip are makeshift
// and count for nothing; digits of the text are what is to be played, also where
// a key held besides makes the grip too wide.
func lacking(p *lint.Inspection, low, high int) int {
	a, b := p.Finger[low], p.Finger[high]
	standing := p.Given[low] == a && p.Given[high] == b
	if a == 0 || b == 0 || a == b || !standing && (p.Reason[low] != "" || p.Reason[high] != "") {
		return 0
	}
	return everyone - hand.Reach(a, b, hand.Distance(p.Score.Notes[low].Midi, p.Score.Notes[high].Midi))
}
