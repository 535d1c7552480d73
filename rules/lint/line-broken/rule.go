// Package linebroken checks that a line does not tear.
package linebroken

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a slur asks for a line that the fingers cannot join.
var Rule = &lint.Rule{
	Name:  "line-broken",
	Title: "a slur asks for a line that the fingers cannot join",
	Checks: "Two single notes under one slur whose digits lie in order but farther apart than that pair of fingers " +
		"can span in the hand of the policy, by more than a fifth; a note where no fingers span it, and where no slur stands, but two fingers without the thumb follow so quickly that the hand cannot move. A tenth at most with thumb and fifth finger is left alone: the hand turns.",
	Why: "The hand has to jump inside the slur. Another finger on one of the notes, or a silent change of finger, " +
		"may keep the line.",
	Before:   "right hand, one slur: C4 with 2, A4 with 3",
	After:    "right hand, one slur: C4 with 1, A4 with 5",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Options:  []string{"hand", "span_mm"},
	Run:      run,
}

func run(p *lint.Inspection) {
	p.Successions(func(n, m int) {
		a, b := p.HoldingFinger(n), p.Digit(m)
		if a == 0 || b == 0 || a == b || !p.Connects(n, m) && !quick(p, n, m, a, b) || p.Crossed(n, m, a, b) || p.PedalJoins(n, m) ||
			p.PedalDown(p.Score.Notes[n].Part, p.Score.At(m)) {
			return
		}
		if turning*p.Profile.Excess(a, b, p.Outward(n, m)) <= p.Profile.Practical(min(a, b), max(a, b)) {
			return
		}
		if max(a, b) == 5 && min(a, b) == 1 && p.Semitones(n, m) <= tenth {
			return // no fingers span more; the hand turns
		}
		severity := lint.Off // its own
		where := "stand under one slur"
		if !p.Connects(n, m) {
			if apart*p.Profile.Excess(a, b, p.Outward(n, m)) <= p.Profile.Practical(min(a, b), max(a, b)) {
				return
			}
			severity, where = lint.Note, "follow at once"
		}
		fix := "give one of them another finger, or change the finger silently"
		if p.Profile.Excess(1, 5, max(p.Outward(n, m), -p.Outward(n, m))) > 0 {
			severity = lint.Note // the leap is the line's
			fix = "no fingers span that: leave the join to the pedal, or end the slur"
		}
		p.Report(lint.Finding{
			Severity: severity,
			Notes:    []int{m, n},
			Message: fmt.Sprintf(
				"%s with %d and %s with %d %s and lie farther apart than the fingers reach",
				p.Score.Notes[n].Pitch, a, p.Score.Notes[m].Pitch, b, where,
			),
			Fix: fix,
		})
	})
}

// atOnce is the time, in microseconds, in which a hand does not go from one place to another (common practice, no source); apart the part
// of a span, one in so many, by which keys that no slur joins have to lie beyond it.
const (
	atOnce = 200_000
	apart  = 3
)

// quick says that two fingers, neither of them the thumb, follow each other so quickly, and so little detached, that the hand cannot
// move between.
func quick(p *lint.Inspection, n, m, a, b int) bool {
	x, y := &p.Score.Notes[n], &p.Score.Notes[m]
	gap := p.Gap(n, m)
	return min(a, b) > 1 && gap > 0 && gap <= atOnce && x.Grace == 0 && y.Grace == 0 && x.InVoiceOf(y) &&
		x.Marks&(score.LetGo|score.BreathMark) == 0 && !p.Score.At(n).Add(x.Duration).Less(p.Score.At(m)) && !p.ChangesFinger(n) && !p.TwoRows(n, m)
}

// turning is the part of its span, one in so many, by which a pair of fingers goes farther from key to key than in a chord:
// the hand turns (common practice).
const turning = 5

// tenth is, in semitones, how far the hand goes from thumb to fifth finger by turning.
const tenth = 16
