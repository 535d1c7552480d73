// Package signagainststaff checks hand signs against what the hands do.
package signagainststaff

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a hand sign asks for what the hand cannot do.
var Rule = &lint.Rule{
	Name:  "sign-against-staff",
	Title: "a hand sign asks for what the hand cannot do",
	Checks: "Hand signs that give notes of a staff to a hand which at the same moment strikes keys on the other " +
		"staff: the two lie farther apart than the hand of the policy spans. Where the sign is therefore read as " +
		"confirming the other staff's notes, it is reported too, as a note where the hand could reach both and the sign " +
		"stands outside the staves. Rolled chords are left alone: there the hand may " +
		"cross over after the lower key.",
	Why:      "The sign names the wrong hand, or stands at the wrong place.",
	Before:   "upper staff: m.s. at C6, while the left hand strikes C2 on the lower staff",
	After:    "the sign taken out, or m.d.",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Options:  []string{"hand", "span_mm"},
	Run:      run,
}

func run(p *lint.Inspection) {
	signs := lint.SignsByPlace(p)
	reported := map[int]bool{}
	p.BlockChords(func(chord []int) {
		low, high := chord[0], chord[len(chord)-1]
		if p.Score.Notes[low].Staff == p.Score.Notes[high].Staff ||
			p.Profile.Fits(p.Score.Notes[low].Midi, p.Score.Notes[high].Midi) {
			return
		}
		for _, m := range []int{high, low} {
			note := &p.Score.Notes[m]
			d := lint.ObeyedAt(p, signs, m)
			if d < 0 || reported[d] {
				continue
			}
			if s := &p.Score.Directions[d]; s.Measure != note.Measure || s.Onset != note.Onset {
				continue // how far a sign holds is not written: it may have ended before
			}
			reported[d] = true
			sign := &p.Score.Directions[d]
			p.Report(lint.Finding{
				Notes: []int{m, low + high - m}, Line: sign.Line, Column: sign.Column,
				Message: fmt.Sprintf(
					"%q gives %s to a hand that strikes %s at the same moment", sign.Text, note.Pitch,
					p.Score.Notes[low+high-m].Pitch,
				),
				Fix: fixSign,
			})
			break
		}
	})
	for i := range p.Score.Directions {
		d := &p.Score.Directions[i]
		if d.Kind != score.HandSign || reported[i] || p.Score.Offered(d) {
			continue
		}
		if here, there, against, severity := besideOthers(p, d); against {
			p.Report(lint.Finding{
				Severity: severity, Notes: []int{here, there}, Line: d.Line, Column: d.Column,
				Message: fmt.Sprintf(
					"%q stands beside %s, but its hand strikes %s at the same moment, and is read as meant for that",
					d.Text, p.Score.Notes[here].Pitch, p.Score.Notes[there].Pitch,
				),
				Fix: "check which hand is meant, and move the sign to its notes",
			})
		}
	}
}

// fixSign is what to do where a sign may name the wrong hand.
const fixSign = "check which hand is meant"

// beside lists what is struck on the staff of a sign at its place, and what its hand strikes on other staves of the part.
func beside(p *lint.Inspection, d *score.Direction) (here, there []int) {
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if note.Part != d.Part || note.Measure != d.Measure || !note.Onset.Equal(d.Onset) || !note.Struck() ||
			note.Grace > 0 || p.Playing.Hand(n) == score.NoHand || p.Playing.Rolled(n) {
			continue
		}
		if note.Staff == max(d.Staff, 1) {
			here = append(here, n)
		} else if p.Playing.Hand(n) == d.Hand {
			there = append(there, n)
		}
	}
	return here, there
}

// besideOthers says that nothing struck beside a sign is its hand's, since that hand strikes a key on the other staff
// from which it cannot reach them: the note beside it that it cannot reach, and that key.
// Where it could, and the sign stands outside the staves, away from its own, it is a note.
func besideOthers(p *lint.Inspection, d *score.Direction) (at, other int, against bool, severity lint.Severity) {
	here, there := beside(p, d)
	if len(here) == 0 || len(there) == 0 ||
		slices.ContainsFunc(here, func(n int) bool { return p.Playing.Hand(n) == d.Hand }) {
		return 0, 0, false, lint.Off
	}
	other = there[0]
	for k, n := range here {
		if k > 0 && p.Score.Notes[n].Voice != p.Score.Notes[here[0]].Voice {
			break // the sign may be for one voice of the staff
		}
		if a, b := p.Score.Notes[n].Midi, p.Score.Notes[other].Midi; !p.Profile.Fits(min(a, b), max(a, b)) {
			return n, other, true, lint.Note
		}
	}
	if outside := d.Above && d.Staff <= 1 && d.Hand == score.Left || d.Below && d.Staff == 2 && d.Hand == score.Right; outside {
		return here[0], other, true, lint.Note
	}
	return 0, 0, false, lint.Off
}
