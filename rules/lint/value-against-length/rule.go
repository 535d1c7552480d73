// Package valueagainstlength checks written note values against how long notes last.
package valueagainstlength

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a note looks longer or shorter than it lasts.
var Rule = &lint.Rule{
	Name:  "value-against-length",
	Title: "a note looks longer or shorter than it lasts",
	Checks: "The written value of notes and rests, with dots and tuplet, against their length in the file. Grace notes, " +
		"tremolos and rests of whole measures are left alone, and what differs by rounding.",
	Why:      "Notation shows the one, everything that is worked out from time follows the other. One of them is wrong.",
	Before:   "a quarter note C4 that lasts an eighth",
	After:    "an eighth note C4",
	Severity: lint.Warning,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	piano := p.PianoParts()
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		looks, known := lint.NoteValue(note.Type)
		whole := note.Kind == score.Rest && !looks.Less(score.Whole(4)) && note.Dots == 0
		if !known || !piano[note.Part] || note.Grace > 0 || note.Cue || note.Tremolo.Strokes > 0 || whole || note.Hidden ||
			note.Duration.Sign() == 0 {
			continue
		}
		dots := int64(min(note.Dots, 4))
		looks = looks.Mul(score.Frac(int64(2)<<dots-1, int64(1)<<dots))
		if note.Tuplet.Actual > 0 && note.Tuplet.Normal > 0 {
			looks = looks.Mul(score.Frac(int64(note.Tuplet.Normal), int64(note.Tuplet.Actual)))
		}
		off := looks.Sub(note.Duration)
		if off.Sign() < 0 {
			off = note.Duration.Sub(looks)
		}
		if !looks.Mul(score.Frac(1, 20)).Less(off) {
			continue
		}
		what := note.Pitch.String()
		if note.Kind != score.Pitched {
			what = "the rest"
		}
		says := fmt.Sprintf("is written as %s%s (%s quarters), but lasts %s", strings.Repeat("dotted ", note.Dots), note.Type,
			looks, note.Duration)
		p.Report(lint.Finding{
			Notes: []int{n}, Message: what + " " + says, Fix: "correct the value or the length", Together: says,
		})
	}
}
