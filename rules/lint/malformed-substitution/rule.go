// Package malformedsubstitution checks changes of finger on a held key.
package malformedsubstitution

import (
	"fmt"
	"strings"

	"fingerproof/rules/lint"
)

// Rule: a change of finger changes nothing or has no beginning.
var Rule = &lint.Rule{
	Name:  "malformed-substitution",
	Title: "a change of finger changes nothing or has no beginning",
	Checks: "Changes of finger on one key: each must have a first finger, on the note or held over a tie, and go " +
		"on to another one; one that is written as begun (3-) must have its second digit. At signs that stand for " +
		"more notes, and in chords, only a change that is written as one. As many digits at one of the keys struck together as there are " +
		"keys, in the order of the keys, are read as the fingers of all of them, which is a note until somebody has decided it. Where three single notes and more in a row have two " +
		"digits each, two fingerings are taken to stand one above the other, and one digit that stands twice is left alone. And digits that the file calls an alternative: " +
		"to none, or to the same digit.",
	Why:      "A change from 3 to 3, or to 4 from nowhere, has lost a digit on the way.",
	Before:   "G4 with 4-4",
	After:    "G4 with 4-5",
	Severity: lint.Error,
	Mildest:  lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if len(note.Indications) == 0 {
			continue
		}
		alternative(p, n)
		if p.Playing.Pile(n) != nil {
			if says, notes := bothKeys(p, n); says != "" {
				p.Report(lint.Finding{
					Severity: lint.Note, Notes: notes, Line: note.Indications[0].Line, Column: note.Indications[0].Column,
					Message: says, Fix: "take them so, or decide the change", Together: lint.OnceAPiece,
				})
			}
			continue
		}
		// There a row of digits may be for other notes; a change that is written as one is none for all that.
		several := len(note.Ornaments) > 0 || note.Tremolo.Strokes > 0 || len(p.Playing.Together(n)) > 1
		if len(p.Playing.Together(n)) > 1 && forWholeChord(p, n) {
			continue
		}
		last := 0
		for k := range note.Indications {
			ind := &note.Indications[k]
			if ind.Alternate || ind.Hidden || len(ind.Fingers) == 0 {
				continue
			}
			message, severity := "", lint.Error
			switch {
			case strings.HasSuffix(strings.ReplaceAll(strings.TrimSpace(ind.Text), "–", "-"), "-") && k+1 == len(note.Indications):
				message = fmt.Sprintf("a change of finger on %s begins with %d and does not go on", note.Pitch, ind.Fingers[0])
			case several && !(openedAtStart(ind.Text) && len(note.Indications) == 1) && !(twice(ind.Fingers) && strings.ContainsAny(ind.Text, "-–")) && !(ind.Substitution &&
				last == ind.Fingers[0]):
			case (ind.Substitution || openedAtStart(ind.Text)) && last == 0 && note.TiedFrom < 0:
				message = fmt.Sprintf(
					"a change to %d on %s, but no finger stands before it", ind.Fingers[0], note.Pitch,
				)
			case ind.Substitution && last == ind.Fingers[0] || twice(ind.Fingers):
				if ind.Substitution && last == ind.Fingers[0] && (rowsMeet(p, n) || p.RowsNear(n)) {
					break // the two rows of digits have one finger here
				}
				message = fmt.Sprintf("a change of finger on %s from %d to the same finger", note.Pitch, ind.Fingers[0])
				if ind.Substitution && last == ind.Fingers[0] {
					severity = lint.Warning // two digits apart: they may be two strokes, or two rows of digits
				}
			}
			last = ind.Fingers[len(ind.Fingers)-1]
			if message != "" {
				p.Report(lint.Finding{
					Severity: severity, Notes: []int{n}, Line: ind.Line, Column: ind.Column, Message: message,
					Fix: "look for the digit that was lost",
				})
				break
			}
		}
	}
}

// openedAtStart says that a text begins with the line of a change: -4.
func openedAtStart(text string) bool {
	text = strings.TrimSpace(text)
	return strings.HasPrefix(text, "-") || strings.HasPrefix(text, "–")
}

// twice says that a finger follows itself in a row.
func twice(fingers []int) bool {
	for i := 1; i < len(fingers); i++ {
		if fingers[i] == fingers[i-1] {
			return true
		}
	}
	return false
}

// forWholeChord says that the digits at a note are all that its chord has, two or more for each of its notes: fingers
// of the whole chord that change, in columns one after another.
func forWholeChord(p *lint.Inspection, n int) bool {
	chord := p.Playing.Together(n)
	count := 0
	for _, m := range chord {
		inds := p.Score.Notes[m].Indications
		if m != n && len(inds) > 0 {
			return false
		}
		for k := range inds {
			if len(inds[k].Fingers) > 1 {
				return false // written as a change
			}
			count += len(inds[k].Fingers)
		}
	}
	return count >= 2*len(chord) && count%len(chord) == 0
}

// rowsMeet says that the notes before a note have two digits too: two fingerings stand in two rows and meet.
func rowsMeet(p *lint.Inspection, n int) bool {
	before := p.Alone(n, -1)
	if before < 0 || len(p.Score.Notes[before].Indications) != 2 {
		return false
	}
	earlier := p.Alone(before, -1)
	return earlier >= 0 && len(p.Score.Notes[earlier].Indications) == 2
}

// alternative reports digits that the file calls an alternative where no other stands, or the same one.
func alternative(p *lint.Inspection, n int) {
	note := &p.Score.Notes[n]
	main := ""
	for k := range note.Indications {
		if ind := &note.Indications[k]; !ind.Alternate && main == "" {
			main = strings.TrimSpace(ind.Text)
		}
	}
	for k := range note.Indications {
		ind := &note.Indications[k]
		if !ind.Alternate || ind.Hidden {
			continue
		}
		message := ""
		switch {
		case main == "" && p.OfferedTo(n, p.Playing.Hand(n).Other()): // the finger of the hand that the sign names
			continue
		case main == "" && len(p.Playing.Together(n)) < 2:
			message = fmt.Sprintf("%s on %s is written as an alternative, and no digit stands before it", ind.Text, note.Pitch)
		case main == strings.TrimSpace(ind.Text) && len(note.Indications) == 2:
			message = fmt.Sprintf("the alternative on %s is the same digit, %s", note.Pitch, ind.Text)
		default:
			continue
		}
		p.Report(lint.Finding{
			Severity: lint.Warning, Notes: []int{n}, Line: ind.Line, Column: ind.Column, Message: message, Fix: "look for the digit that is meant",
		})
		return
	}
}
