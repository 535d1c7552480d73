// Package needlessdigitontie checks digits on notes that are held on from before.
package needlessdigitontie

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule reports the digit of a held note printed again where the tie goes on.
// Another digit there is a change of finger on the held key, and is left alone.
var Rule = &lint.Rule{
	Name:  "needless-digit-on-tie",
	Title: "a tied note repeats the digit it is held with",
	Checks: "Digits on notes that a tie continues: the same digit as on the note struck, or a digit where the " +
		"note struck has none. A different digit is a change on the held key and is accepted, unless what follows " +
		"lies for the finger before; so is one beside a digit at another key that the hand strikes there: it shows " +
		"the grip.",
	Why: "The key stays down and so does the finger. The second digit reads as a new stroke or as a silent change, " +
		"and it crowds the page.",
	Before:   "G4 with 5, tied to G4 with 5",
	After:    "G4 with 5, tied to G4 without a digit",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.1",
	Run:      run,
}

func run(p *lint.Inspection) {
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if note.TiedFrom < 0 {
			continue
		}
		holding := holdingFinger(p, note.TiedFrom)
		if holding == 0 && len(note.Indications) > 0 && note.Indications[0].Finger() > 0 && !note.Indications[0].Alternate {
			p.Report(lint.Finding{
				Notes: []int{n}, Severity: lint.Note,
				Message: fmt.Sprintf("%s is held by a tie and has %s, but has none where it is struck", note.Pitch, note.Indications[0].Text),
				Fix:     "set it where the key is struck, unless the finger is changed here",
			})
			continue
		}
		if at := note.TiedFrom; changesForNothing(p, n, holding) {
			p.Report(lint.Finding{
				Notes: []int{n, at}, Severity: lint.Note,
				Message: fmt.Sprintf("%s is held with %d and has %d where the tie goes on, and what follows lies better for %d", note.Pitch, holding,
					p.Digit(n), holding),
				Fix: "take the digit out, unless the finger is to change here",
			})
			continue
		}
		for _, ind := range note.Indications {
			if ind.Alternate || holding == 0 || ind.Finger() != holding || beside(p, n) {
				continue
			}
			p.Report(lint.Finding{
				Notes: []int{n}, Line: ind.Line, Column: ind.Column,
				Message: fmt.Sprintf("%s is held with %d already; the tie needs no second digit", note.Pitch, holding),
				Fix:     "take the digit out",
			})
		}
	}
}

// changesForNothing says that the finger which a digit at a tie asks for is another than the one that holds the key, and
// that the next single note of the hand asks for the one before: it is the same key with that finger again, or a digit that
// lies on its right side and on the wrong one of the new finger.
func changesForNothing(p *lint.Inspection, n, holding int) bool {
	f, next := p.Digit(n), p.Alone(n, 1)
	if next < 0 {
		if st := p.Playing.Stroke(n); st == nil {
			next = nextOf(p, n)
		}
	}
	if f == 0 || holding == 0 || f == holding || next < 0 || p.DigitsAt(n) > 1 || p.Digit(next) == 0 {
		return false
	}
	d := p.Digit(next)
	if p.Score.Notes[next].Midi == p.Score.Notes[n].Midi {
		return d == holding
	}
	return min(f, d) > 1 && d != f && p.Crossed(n, next, f, d) && d != holding && !p.Crossed(n, next, holding, d)
}

// nextOf is the note that follows a held one in its voice, -1 where that is none or a chord.
func nextOf(p *lint.Inspection, n int) int {
	a := &p.Score.Notes[n]
	end := p.Score.At(n).Add(a.Duration)
	found := -1
	for m := n + 1; m < len(p.Score.Notes) && p.Score.Notes[m].Measure <= a.Measure+1; m++ {
		b := &p.Score.Notes[m]
		if b.Part != a.Part || b.Voice != a.Voice || b.Staff != a.Staff || p.Score.At(m) != end || b.Grace > 0 || b.Kind != score.Pitched {
			continue
		}
		if found >= 0 {
			return -1
		}
		found = m
	}
	return found
}

// beside says that the hand strikes another key with a digit where a tie goes on: the digit that is repeated shows the grip.
func beside(p *lint.Inspection, n int) bool {
	for m := n; m >= 0 && p.Score.Notes[m].Measure == p.Score.Notes[n].Measure; m-- {
		if shownWith(p, n, m) {
			return true
		}
	}
	for m := n + 1; m < len(p.Score.Notes) && p.Score.Notes[m].Measure == p.Score.Notes[n].Measure; m++ {
		if shownWith(p, n, m) {
			return true
		}
	}
	return false
}

func shownWith(p *lint.Inspection, n, m int) bool {
	a, b := &p.Score.Notes[n], &p.Score.Notes[m]
	column := p.DigitsAt(n) > 1 && b.Kind == score.Pitched // the digit of the other key stands in it
	return b.Onset == a.Onset && b.Grace == 0 && b.TiedFrom < 0 && m != n && (p.Digit(m) > 0 || column) && p.Playing.Hand(m) == p.Playing.Hand(n)
}

// holdingFinger follows the tie back to the last digit given on the way.
func holdingFinger(p *lint.Inspection, n int) int {
	for ; n >= 0; n = p.Score.Notes[n].TiedFrom {
		inds := p.Score.Notes[n].Indications
		for i := len(inds) - 1; i >= 0; i-- {
			if !inds[i].Alternate && len(inds[i].Fingers) > 0 {
				return inds[i].Fingers[len(inds[i].Fingers)-1]
			}
		}
	}
	return 0
}
