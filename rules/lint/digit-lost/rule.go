// Package digitlost checks for notes without a digit in rows that are fingered whole.
package digitlost

import (
	"fmt"

	"fingerproof/corpus/score/playing"
	"fingerproof/rules/lint"
)

// Rule: one note of a row has no digit, and all others have.
var Rule = &lint.Rule{
	Name:  "digit-lost",
	Title: "one note of a row has no digit, and all others have",
	Checks: "Single notes of a hand that have no digit in print where twelve and more around them have one each, without a break; " +
		"repeated keys, grace notes and ornaments are left alone. Where a piece has more than one such note, that is how it is fingered.",
	Why:      "Where every note has a digit, as in exercises, a note without one reads as a misprint.",
	Before:   "right hand: C4 with 1, D4 with 2, E4, F4 with 1, G4 with 2 …",
	After:    "the E4 with 3",
	Severity: lint.Note,
	Since:    "0.21",
	Run:      run,
}

const (
	around   = 12 // digits next to the note, before and after
	fewSlips = 1
)

func run(p *lint.Inspection) {
	var found []int
	for k := range p.Playing.Lines {
		strokes := p.Playing.Lines[k].Strokes
		for i := range strokes {
			if len(strokes[i].Notes) != 1 || digits(p, &strokes[i]) || !wantsOne(p, strokes, i) {
				continue
			}
			before, after := 0, 0
			for j := i - 1; j >= 0 && digits(p, &strokes[j]) && before < around; j-- {
				before++
			}
			for j := i + 1; j < len(strokes) && digits(p, &strokes[j]) && after < around; j++ {
				after++
			}
			if before > 0 && after > 0 && before+after >= around {
				found = append(found, strokes[i].Notes[0])
			}
		}
	}
	if len(found) > fewSlips {
		return
	}
	for _, n := range found {
		p.Report(lint.Finding{
			Notes: []int{n}, Message: fmt.Sprintf("%s has no digit, and all notes around it have", p.Score.Notes[n].Pitch),
			Fix: "put in the digit",
		})
	}
}

// digits says that a digit stands at each stem of a stroke.
func digits(p *lint.Inspection, st *playing.Stroke) bool {
	for _, n := range st.Notes {
		if p.Digit(n) > 0 {
			return true
		}
	}
	return false
}

// wantsOne leaves alone what needs no digit: a key struck again, grace notes, ornaments.
func wantsOne(p *lint.Inspection, strokes []playing.Stroke, i int) bool {
	n := strokes[i].Notes[0]
	x := &p.Score.Notes[n]
	if x.Grace > 0 || len(x.Ornaments) > 0 || x.Tremolo.Strokes > 0 {
		return false
	}
	for _, j := range []int{i - 1, i + 1} {
		if j < 0 || j >= len(strokes) {
			continue
		}
		for _, m := range strokes[j].Notes {
			if p.Score.Notes[m].Midi == x.Midi {
				return false
			}
		}
	}
	return true
}
