// Package wrongside checks on which side digits stand.
package wrongside

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a digit stands on the wrong side of its staff.
var Rule = &lint.Rule{
	Name:  "wrong-side",
	Title: "a digit stands on the wrong side of its staff",
	Checks: "Digits whose side the file gives, where the policy places digits outside the system: the right " +
		"hand's above the upper staff, the left hand's below the lower one. Where a staff has several voices, or " +
		"both hands play on it, digits follow the voices: a single one on the side of the other voice is a note, " +
		"unless an edition in the house style would set it there. " +
		"Left alone are those in parentheses that a sign in parentheses offers to the other hand.",
	Why:      "Between the staves a digit is read for the other hand.",
	Before:   "right hand on the upper staff: C5 with a 3 below",
	After:    "the 3 above",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Options:  []string{"marks.placement"},
	Run:      run,
}

func run(p *lint.Inspection) {
	byVoices(p)
	if !p.PlacesOutside {
		return
	}
	shared := sharedStaves(p)
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if !p.Playing.Plays(n) || shared[place{note.Part, note.Staff, note.Measure}].several {
			continue
		}
		side, word := score.Above, "above"
		if p.Playing.Hand(n) == score.Left {
			side, word = score.Below, "below"
		}
		for k := range note.Indications {
			ind := &note.Indications[k]
			if ind.Placement == score.PlacementUnset || ind.Placement == side || ind.Hidden ||
				ind.Alternate && p.OfferedTo(n, p.Playing.Hand(n).Other()) {
				continue
			}
			p.Report(lint.Finding{
				Notes: []int{n}, Line: ind.Line, Column: ind.Column,
				Message: fmt.Sprintf("the %s on %s stands %s its staff", ind.Text, note.Pitch, ind.Placement),
				Fix:     "set it " + word,
				Edit: []score.Mark{
					{Note: n, Restyles: []score.Restyle{{Ordinal: k, Style: ind.Style, Placement: side}}},
				},
			})
		}
	}
}

type place struct{ part, staff, measure int }

// use is who plays on a staff in a measure.
type use struct {
	hand    score.Hand
	voice   string
	several bool // more than one voice or hand, or a voice from another staff
}

func sharedStaves(p *lint.Inspection) map[place]use {
	out := map[place]use{}
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if !p.Playing.Plays(n) {
			continue
		}
		at := place{note.Part, note.Staff, note.Measure}
		u, there := out[at]
		if !there {
			u = use{hand: p.Playing.Hand(n), voice: note.Voice}
		}
		u.several = u.several || u.hand != p.Playing.Hand(n) || u.voice != note.Voice || note.HomeStaff != note.Staff
		out[at] = u
		if home := (place{note.Part, note.HomeStaff, note.Measure}); home != at { // the voice goes over to the other staff
			own := out[home]
			own.several = true
			out[home] = own
		}
	}
	return out
}
