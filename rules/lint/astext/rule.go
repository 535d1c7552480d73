// Package astext checks for digits that are no fingering.
package astext

import (
	"fmt"
	"regexp"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a digit is typed as text or as sung text.
var Rule = &lint.Rule{
	Name:     "digit-as-text",
	Title:    "a digit is typed as text or as sung text",
	Checks:   "Words above or below a staff of the piano that are nothing but digits 1 to 5, and single digits 1 to 5 under a note as sung text.",
	Why:      "It looks like a fingering and is none: it moves with the text, not with the note, is lost in every conversion, and no program reads it.",
	Before:   "the words “3” above C5",
	After:    "C5 with the fingering 3",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

var onlyDigits = regexp.MustCompile(`^[1-5](?:[-–\s]*[1-5]){0,4}$`)

func run(p *lint.Pass) {
	piano := map[int]bool{}
	for n, is := range p.Piano {
		if is {
			piano[p.Score.Notes[n].Part] = true
		}
	}
	for _, d := range p.Score.Directions {
		if d.Kind == score.Words && piano[d.Part] && onlyDigits.MatchString(d.Text) {
			p.Report(lint.Finding{
				Measure: d.Measure, Onset: d.Onset, Hand: d.Hand, Line: d.Line, Column: d.Column,
				Message: fmt.Sprintf("%q is typed as text and looks like a fingering", d.Text),
				Fix:     "make it the fingering of its note",
			})
		}
	}
	for _, o := range p.Score.Oddities {
		if o.Kind == score.OddDigitLyric && o.Note >= 0 && p.Piano[o.Note] {
			p.Report(lint.Finding{Notes: []int{o.Note}, Message: o.Detail, Fix: "make it the fingering of its note"})
		}
	}
}
