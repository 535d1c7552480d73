// Package octavelinedoubtful checks that octave lines make the page easier to read.
package octavelinedoubtful

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: an octave line leads away from the staff.
var Rule = &lint.Rule{
	Name:  "octave-line-doubtful",
	Title: "an octave line leads away from the staff",
	Checks: "Octave lines of the piano parts, by the clef in force: an 8va stands over notes that would need ledger lines " +
		"above the staff without it, an 8vb under notes that would need them below. One that brings none " +
		"of its notes nearer to the staff, and half of them or more farther from it, goes the wrong way or stands at the wrong staff. A 15ma over notes of which, under an 8va, none " +
		"would need more than two ledger lines, in a piece that has one or two, is a note: mostly the 8va was meant.",
	Why:      "The line is to save ledger lines (common practice). One that costs some was turned round, and the player is an octave off.",
	Before:   "an 8vb under C7 D7",
	After:    "an 8va over C7 D7",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.16",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// shifts are how many letters the written notes lie away from what sounds, by the readings of octave lines.
var shifts = map[string]int{"8va": -7, "8vb": 7, "15ma": -14, "15mb": 14, "22ma": -21, "22mb": 21}

func run(p *lint.Inspection) {
	s := p.Score
	clefs := p.Clefs()
	piano := p.PianoParts()
	var doubles []*score.Item
	for k := range s.Items {
		i := &s.Items[k]
		if i.Kind != score.ItemOctaveLine || !piano[i.Part] || i.End == nil {
			continue
		}
		shift, known := shifts[i.Reading]
		if !known {
			continue
		}
		from := s.Measures[i.Measure].Start.Add(i.Onset)
		to := s.Measures[i.End.Measure].Start.Add(i.End.Onset)
		notes, worse, better, far := 0, 0, 0, 0
		for n := range s.Notes {
			x := &s.Notes[n]
			at := s.At(n)
			if x.Part != i.Part || x.Staff != i.Staff || x.Kind != score.Pitched || at.Less(from) || to.Less(at) ||
				!at.Less(to) && from.Less(to) { // files differ in whether the end stands before or after its last note
				continue
			}
			notes++
			middle, is := clefs.Middle(x.Part, x.Staff, at)
			if !is {
				return
			}
			place := lint.Place(x.Pitch) - middle
			if beyond(place+shift/2) > twoLedgers {
				far++
			}
			switch with, without := beyond(place+shift), beyond(place); {
			case with > without:
				worse++
			case with < without:
				better++
			}
		}
		if better == 0 && worse > 0 && 2*worse >= notes {
			p.ReportItem(i, lint.Finding{
				Message: fmt.Sprintf("under the %s no note stands nearer to the staff than without it, and %d of %d farther", i.Reading, worse, notes),
				Fix:     "turn it round, take it out, or set it at the other staff",
			})
		} else if strings.HasPrefix(i.Reading, "15") && notes > 0 && far == 0 {
			doubles = append(doubles, i)
		}
	}
	if len(doubles) > fewDoubles {
		return
	}
	for _, i := range doubles {
		p.ReportItem(i, lint.Finding{
			Severity: lint.Note,
			Message:  fmt.Sprintf("under an %s in place of the %s no note would need more than two ledger lines", strings.Replace(i.Reading, "15m", "8v", 1), i.Reading),
			Fix:      "check which of the two is meant",
		})
	}
}

const (
	twoLedgers = 5 // places outside the staff: two ledger lines and the space beyond
	fewDoubles = 2 // of a piece; more are how it is written
)

// beyond is how many places a note lies outside the staff, of which the middle line is 0.
func beyond(place int) int {
	const edge = 4
	if place < 0 {
		place = -place
	}
	return max(place-edge, 0)
}
