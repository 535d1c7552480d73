// Package restdoubled checks that rests of several voices do not double each other.
package restdoubled

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: two voices of a staff print the same rest.
var Rule = &lint.Rule{
	Name:  "rest-doubled",
	Title: "two voices of a staff print the same rest",
	Checks: "Rests on one staff that begin together and last equally long, both printed: of two voices, told once a piece with " +
		"its measures, or of one; and the rest of a " +
		"measure in a voice that has nothing else in the piece, beside notes of its staff; or in a voice that has notes in the measure, too.",
	Why:      "One rest for both voices is enough (common practice); the second crowds the staff.",
	Before:   "both voices of the upper staff with a quarter rest on beat 1",
	After:    "one quarter rest",
	Severity: lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// fewRests is at how many places of a piece the rest of a voice that has nothing else may stand beside notes as a slip.
const fewRests = 1

// shortPiece is how many measures a piece has in which a voice of one rest says nothing.
const shortPiece = 8

// besideNotes reports rests of a whole measure in a voice that the piece has nowhere else, beside notes of another voice
// of the staff that fill the measure: that voice was opened by a slip of the keys.
func besideNotes(p *lint.Inspection) {
	type voice struct {
		part, staff int
		name        string
	}
	printed := p.TextParts()
	s := p.Score
	count := map[voice]int{}
	for n := range s.Notes {
		count[voice{s.Notes[n].Part, s.Notes[n].Staff, s.Notes[n].Voice}]++
	}
	var found []int
	for n := range s.Notes {
		x := &s.Notes[n]
		m := &s.Measures[x.Measure]
		if x.Kind != score.Rest || x.Hidden || x.Cue || !printed[x.Part] || x.Onset.Sign() != 0 || x.Duration != m.Length ||
			count[voice{x.Part, x.Staff, x.Voice}] > fewRests {
			continue
		}
		for k := range s.Notes {
			if y := &s.Notes[k]; y.Measure == x.Measure && y.Part == x.Part && y.Staff == x.Staff && y.Kind == score.Pitched && !y.Hidden {
				found = append(found, n)
				break
			}
		}
	}
	if len(found) > fewRests || len(s.Measures) < shortPiece {
		return
	}
	for _, n := range found {
		p.Report(lint.Finding{
			Notes: []int{n}, Message: fmt.Sprintf("voice %s has nothing but this rest, beside notes of its staff", s.Notes[n].Voice),
			Fix: "take it out",
		})
	}
}

// besideOwn reports rests of a whole measure in a voice that has notes in it: the one or the other was left standing.
func besideOwn(p *lint.Inspection) {
	printed := p.TextParts()
	s := p.Score
	for n := range s.Notes {
		x := &s.Notes[n]
		if x.Kind != score.Rest || x.Hidden || x.Cue || !printed[x.Part] || x.Onset.Sign() != 0 || x.Duration.Sign() == 0 ||
			x.Duration != s.Measures[x.Measure].Length {
			continue
		}
		for _, m := range p.InMeasure(x.Measure) {
			if y := &s.Notes[m]; y.InVoiceOf(x) && y.Kind == score.Pitched && y.Grace == 0 && p.Shows(m) {
				p.Report(lint.Finding{
					Notes: []int{n, m}, Message: fmt.Sprintf("the rest of a whole measure stands beside the notes of its own voice %s", x.Voice),
					Fix: "take it out, or give it a voice of its own", Together: "own voice",
				})
				break
			}
		}
	}
}

func run(p *lint.Inspection) {
	besideNotes(p)
	besideOwn(p)
	type place struct {
		part, staff int
		at, length  score.Fraction
	}
	first := map[place]int{}
	printed := p.TextParts()
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if note.Kind != score.Rest || note.Hidden || note.Cue || !printed[note.Part] || note.Duration.Sign() == 0 {
			continue
		}
		at := place{note.Part, note.Staff, p.Score.At(n), note.Duration}
		m, is := first[at]
		if !is {
			first[at] = n
			continue
		}
		if p.Score.Notes[m].Voice == note.Voice {
			p.Report(lint.Finding{Notes: []int{n, m}, Message: "the rest stands here twice", Fix: "print it once"})
		} else {
			p.Report(lint.Finding{
				Notes:   []int{n, m},
				Message: fmt.Sprintf("voices %s and %s print the same rest", p.Score.Notes[m].Voice, note.Voice),
				Fix:     "print one rest for both", Together: lint.OnceAPiece,
			})
		}
	}
}
