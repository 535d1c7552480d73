// Package speedbeyondhand checks leaps against the time there is.
package speedbeyondhand

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/hand"
	"fingerproof/rules/lint"
)

// Rule: the hand must leap farther than the time allows.
var Rule = &lint.Rule{
	Name:  "speed-beyond-hand",
	Title: "the hand must leap farther than the time allows",
	Checks: "Two single notes with digits between which the hand must jump (beyond what the two fingers span, or " +
		"the same finger on another key), against the time between them. Where the tempo is inferred from a word " +
		"it is at most a note, and none after a detached key; grace notes and unmeasured runs get none.",
	Why: "What fits under slow practice comes apart at the tempo, and the player meets it only when the piece is " +
		"learnt.",
	Before:   "sixteenths at quarter = 160: C4 with 5, A5 with 5",
	After:    "C4 with 1, A5 with 5 after a rest, or a note for the other hand",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Run:      run,
}

// The hand moves sideways at up to about two metres a second in a leap (our
// own working figure, provisional), and needs this long to begin with.
const (
	startMicros      = 40_000
	microsAHundredth = 5 // for each hundredth of a millimetre
)

func run(p *lint.Inspection) {
	p.Successions(func(n, m int) {
		a, b, gap := p.HoldingFinger(n), p.Digit(m), p.Gap(n, m)
		if a == 0 || b == 0 || gap <= 0 || p.Score.Notes[n].Grace > 0 || p.Score.Notes[m].Grace > 0 {
			return
		}
		if a != b && !p.Tempo.Marked && p.Score.Notes[n].Marks&score.LetGo != 0 {
			return // a leap that is meant, at a tempo that nobody has said
		}
		leap := leapOf(p, n, m, a, b)
		if leap < hand.MM(60) || gap >= startMicros+microsAHundredth*int64(leap) {
			return // a small move is a matter of taste, not of speed
		}
		p.Report(lint.Finding{
			Severity: p.AtTempo(), Notes: []int{m, n},
			Message: fmt.Sprintf(
				"from %s with %d to %s with %d the hand jumps %d mm in %d ms", p.Score.Notes[n].Pitch, a,
				p.Score.Notes[m].Pitch, b, leap/100, gap/1000,
			),
			Fix: "use a fingering without the jump, or give a note to the other hand",
		})
	})
}

// leapOf is how far the hand itself has to move: what the fingers do not span.
func leapOf(p *lint.Inspection, n, m, a, b int) hand.Length {
	out := p.Outward(n, m)
	if p.Crossed(n, m, a, b) {
		out = max(out, -out)
		if a == 1 || b == 1 {
			return max(out-hand.MM(70), 0) // a passing takes about a fourth
		}
		return out
	}
	return p.Profile.Excess(a, b, out) + same(a, b, out)
}

func same(a, b int, out hand.Length) hand.Length {
	if a != b {
		return 0
	}
	return max(out, -out)
}
