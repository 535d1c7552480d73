// Package clefdoubtful checks that notes lie near the staff by the clef in force.
package clefdoubtful

import (
	"fmt"
	"slices"

	"fingerproof/rules/lint"
)

// Rule: by the clef in force the notes lie far from the staff, by another on it.
var Rule = &lint.Rule{
	Name:  "clef-doubtful",
	Title: "by its clef the notes of a staff lie far away from it",
	Checks: "Measures of a staff of the piano whose notes, all but one in four, need four ledger lines and more by the clef in " +
		"force, octave lines taken into account, and all lie on the staff or up to two ledger lines from it by the treble or the bass " +
		"clef. Where a piece has more than two such places, that is how it is written. As a warning, a clef under which, as long as it is in " +
		"force, two notes in three need two ledger lines and more, and under the treble or the bass clef one in ten at most, or at the beginning of the piece lie nearly " +
		"twice as near to the staff; and a clef " +
		"without pitches, as that of percussion, at a staff with pitches; as a note, a clef that piano music does not have (baritone, French violin, a sign on a line of its own), where a piece has it once or twice.",
	Why:      "Nobody writes so many ledger lines where a clef saves them (common practice): the clef was not set, or the wrong one.",
	Before:   "bass clef, and C6 D6 E6 F6",
	After:    "treble clef, and C6 D6 E6 F6",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.21",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

const (
	farAway = 12 // steps from the middle line: four ledger lines
	atHome  = 9  // two ledger lines and the space beyond
	enough  = 3  // notes of a measure
	few     = 2  // places of a piece
)

// clefs are those that would save the ledger lines, with the place of the note on their middle line (lint.Place).
var clefs = []struct {
	name   string
	middle int
}{{"treble", 34}, {"bass", 22}}

// A place is the measures of a staff, one after another, whose notes lie far away.
type place struct {
	part, staff, from, to int
	first                 int // its first note
	clef                  string
}

func run(p *lint.Inspection) {
	s := p.Score
	told := wholeStretches(p)
	strange(p)
	var found []place
	for part := range s.Parts {
		if !p.PianoParts()[part] || s.Parts[part].Transposed != 0 {
			continue
		}
		for staff := 1; staff <= max(s.Parts[part].Staves, 1); staff++ {
			found = append(found, ofStaff(p, part, staff)...)
		}
	}
	found = slices.DeleteFunc(found, func(x place) bool { return told[x.first] })
	stretches := passages(p, func(x place) bool {
		return told[x.first] || len(found) <= few && slices.ContainsFunc(found, func(y place) bool {
			return x.part == y.part && x.staff == y.staff && x.from <= y.to && y.from <= x.to
		})
	})
	if len(stretches) <= few {
		for _, x := range stretches {
			p.Report(lint.Finding{
				Severity: lint.Note, Notes: []int{x.first},
				Message: fmt.Sprintf("from here to m. %s the notes of the staff need two ledger lines and more, and by the %s clef hardly any", p.Score.Measures[x.to].Number, x.clef),
				Fix:     "put in the change of clef, if one was lost",
			})
		}
	}
	if len(found) > few {
		return
	}
	for _, x := range found {
		p.Report(lint.Finding{
			Severity: lint.Note, Notes: []int{x.first},
			Message: fmt.Sprintf("the notes of the staff need four ledger lines and more, and by the %s clef two at most", x.clef),
			Fix:     "set the clef that is meant, or an octave line",
		})
	}
}

func ofStaff(p *lint.Inspection, part, staff int) (found []place) {
	set := p.Clefs()
	for m, notes := range byMeasure(p.Score, part, staff) {
		clef := ""
		if len(notes) >= enough {
			clef = better(p, set, notes)
		}
		if clef == "" {
			continue
		}
		if k := len(found) - 1; k >= 0 && found[k].to == m-1 && found[k].clef == clef {
			found[k].to = m
			continue
		}
		found = append(found, place{part, staff, m, m, notes[0], clef})
	}
	return found
}

// better names the clef by which notes lie near the staff, most of which lie far from it by the clef in force; "" for none.
func better(p *lint.Inspection, set *lint.Clefs, notes []int) string {
	s := p.Score
	for _, c := range clefs {
		far, all := 0, true
		for _, n := range notes {
			x := &s.Notes[n]
			at := lint.Place(x.Pitch) - 7*p.OctavesAbove(n)
			middle, known := set.Middle(x.Part, x.Staff, s.At(n))
			if !known || distance(at, c.middle) > atHome {
				all = false
				break
			}
			if distance(at, middle) >= farAway {
				far++
			}
		}
		if all && far >= enough && 4*far >= 3*len(notes) {
			return c.name
		}
	}
	return ""
}

func distance(a, b int) int { return max(a-b, b-a) }
