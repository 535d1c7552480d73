// Package returndiffers checks passages that return.
package returndiffers

import (
	"fmt"

	"fingerproof/rules/lint"
	"fingerproof/rules/parallel"
)

// Rule: a passage returns with other digits.
var Rule = &lint.Rule{
	Name:  "return-differs",
	Title: "a passage returns with other digits",
	Checks: "Passages that return, as far as the policy asks (`lint_options.returns`): notes that carry a digit " +
		"both times, and not the same, unless that is the first note alone, or one that is reached otherwise. What is declared to differ on purpose is left alone. One finding a return.",
	Why: "Memory runs through the fingers. Where a return is to be fingered otherwise, the page should show that " +
		"it is meant; where not, one of the two is a slip.",
	Before:   "m. 1: C5 with 3; m. 9, the same passage: C5 with 2",
	After:    "both times 3, or the return declared to differ",
	Severity: lint.Note,
	Since:    "0.2",
	Options:  []string{"lint_options.returns"},
	Run:      run,
}

func run(p *lint.Inspection) {
	for _, r := range p.Returns {
		if !asked(p.Options.Returns, r.Kind) {
			continue
		}
		at, differ, both := -1, 0, 0
		var notes []int // later and first, of each place that differs
		for i := range min(len(r.First), len(r.Later)) {
			a, b := p.Digit(r.First[i]), p.Digit(r.Later[i])
			if a == 0 || b == 0 || p.Apart != nil && p.Apart[r.Later[i]] {
				continue
			}
			both++
			if a != b {
				differ++
				notes = append(notes, r.Later[i], r.First[i])
				if at < 0 {
					at = i
				}
			}
		}
		if at < 0 || at == 0 && (both == 1 || differ == 1 && reachedOtherwise(p, r.First[0], r.Later[0])) {
			continue // one digit, at a note that is reached from elsewhere
		}
		if differ > 1 && min(len(r.First), len(r.Later)) < shortPassage {
			continue // few notes that happen to be alike, fingered each for itself
		}
		first, later := r.First[at], r.Later[at]
		p.Report(lint.Finding{
			Notes: notes,
			Message: fmt.Sprintf(
				"%s has %d here and %d where the passage stood before (m. %s); %d of %d digits of the passage differ",
				p.Score.Notes[later].Pitch, p.Digit(later), p.Digit(first),
				p.Score.Measures[p.Score.Notes[first].Measure].Number, differ, both,
			),
			Fix: "finger both alike, or declare that the return differs",
		})
	}
}

// shortPassage is how many notes a passage has at least in which more than one digit may be a slip.
const shortPassage = 8

// reachedOtherwise says that what the hand strikes alone before two notes has another digit or is another key.
func reachedOtherwise(p *lint.Inspection, first, later int) bool {
	a, b := p.Alone(first, -1), p.Alone(later, -1)
	if a < 0 || b < 0 {
		return a != b
	}
	return p.HoldingFinger(a) != p.HoldingFinger(b) || p.Score.Notes[a].Midi-p.Score.Notes[first].Midi !=
		p.Score.Notes[b].Midi-p.Score.Notes[later].Midi
}

// asked says whether a policy's word covers a kind of return.
func asked(word string, kind parallel.Kind) bool {
	switch word {
	case "exact":
		return kind == parallel.Exact
	case "transposed":
		return kind != parallel.Mirrored
	case "all":
		return true
	}
	return false
}
