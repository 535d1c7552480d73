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
	Checks: "Single notes of a hand, in an even row, that have no digit in print where twelve and more around them (six in a scale, four on either side) have one each, without a break; " +
		"repeated keys, grace notes and ornaments are left alone. Where a piece has more than one such note, that is how it is fingered. And the one note of a chord that has none, where five chords and more have all.",
	Why:      "Where every note has a digit, as in exercises, a note without one reads as a misprint.",
	Before:   "right hand: C4 with 1, D4 with 2, E4, F4 with 1, G4 with 2 …",
	After:    "the E4 with 3",
	Severity: lint.Note,
	Since:    "0.21",
	Run:      run,
}

const (
	around = 12 // digits next to the note, before and after
	even   = 2  // notes on either side as long as it: in a row of its own kind
	// aroundInScale is enough where the note stands within a scale, two notes before and after.
	aroundInScale = 6
	fewSlips      = 1
	aroundBoth    = 4 // is enough on either side
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
			if before > 0 && after > 0 && (before+after >= around || before >= aroundBoth && after >= aroundBoth || before+after >= aroundInScale && inScale(p, strokes, i)) {
				found = append(found, strokes[i].Notes[0])
			}
		}
	}
	chords(p)
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
	for j := i - even; j <= i+even; j++ {
		if j < 0 || j >= len(strokes) || j == i {
			continue
		}
		if y := &p.Score.Notes[strokes[j].Notes[0]]; y.Duration != x.Duration || y.Grace > 0 {
			return false
		}
		if j < i-1 || j > i+1 {
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

// inScale says that two notes before a note and two after it go on with it by step in one direction.
func inScale(p *lint.Inspection, strokes []playing.Stroke, i int) bool {
	if i < 2 || i+2 >= len(strokes) {
		return false
	}
	up := 0
	for j := i - 2; j <= i+2; j++ {
		if len(strokes[j].Notes) != 1 {
			return false
		}
		if j == i-2 {
			continue
		}
		switch by := p.Score.Notes[strokes[j].Notes[0]].Midi - p.Score.Notes[strokes[j-1].Notes[0]].Midi; {
		case by == 1 || by == 2:
			up++
		case by == -1 || by == -2:
			up--
		default:
			return false
		}
	}
	return up == 4 || up == -4
}

// whole is how many chords with a digit at each note make it the custom of a piece.
const whole = 5

// chords reports the chord of three notes and more on one stem of which one note has no digit, in a piece that fingers all
// others whole.
func chords(p *lint.Inspection) {
	full := 0
	var found [][2]int // the note without, and one with
	p.Chords(func(chord []int) {
		without, with := -1, 0
		for _, n := range chord {
			switch {
			case !p.OneStem(n, chord[0]) || p.DigitsAt(n) > 1:
				return
			case p.Digit(n) > 0:
				with++
			default:
				without = n
			}
		}
		switch {
		case len(chord) < 3 || with == 0:
		case with == len(chord):
			full++
		default:
			found = append(found, [2]int{without, len(chord) - with})
		}
	})
	if full < whole || len(found) > fewSlips {
		return
	}
	for _, x := range found {
		if x[1] == 1 {
			p.Report(lint.Finding{
				Notes: []int{x[0]}, Message: fmt.Sprintf("of the chord %s alone has no digit", p.Score.Notes[x[0]].Pitch), Fix: "put it in, as at the others",
			})
		}
	}
}
