// Package courtesymissing checks that accidentals remind of what holds where a reader doubts it.
package courtesymissing

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a note has no courtesy sign where the piece sets them.
var Rule = &lint.Rule{
	Name:  "courtesy-missing",
	Title: "a note has no courtesy sign where its letter has just been altered",
	Checks: "Notes of a keyboard without a sign, right by the rules, of which a reader doubts all the same: the note of its line or space was " +
		"altered otherwise just before the barline, or its letter was so in another octave of the measure, shortly before. Told once a piece, with its " +
		"measures, and only in pieces that set courtesy signs: not where they leave most of such places without one, and not in files that write no accidentals out.",
	Why:      "The reader stops, or plays the altered key: a sign that only reminds costs nothing there (common practice).",
	Before:   "C#5, then C4 in the same measure without a sign",
	After:    "C4 with a natural",
	Severity: lint.Note,
	Since:    "0.26",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// place is where a courtesy sign may be asked for.
type place struct {
	n, after int // the note, and that which was altered otherwise
	signed   bool
}

func run(p *lint.Inspection) {
	if !p.WritesAccidentals() {
		return
	}
	var acrossBarline, acrossOctaves []place
	signed, bare := 0, 0 // of all places at which a sign would remind
	each(p, func(x place) {
		if x.signed {
			signed++
		} else {
			bare++
		}
		a, b := &p.Score.Notes[x.after], &p.Score.Notes[x.n]
		gap := p.Score.At(x.n).Sub(p.Score.At(x.after).Add(a.Duration))
		switch same := a.Measure == b.Measure; {
		case a.Staff != b.Staff:
		case !same && a.Pitch.Octave == b.Pitch.Octave && !near.Less(gap) && strikesBetween(p, x.after, x.n) <= fewBetween:
			acrossBarline = append(acrossBarline, x)
		case same && a.Pitch.Octave != b.Pitch.Octave && !nearInMeasure.Less(gap):
			acrossOctaves = append(acrossOctaves, x)
		}
	})
	if signed*atMostBare < bare || signed == 0 {
		return
	}
	report(p, acrossBarline, "%s has no sign to remind that %s before the barline holds no longer")
	report(p, acrossOctaves, "%s has no sign to remind that %s is of another octave")
}

// atMostBare is how many places are without a sign, at the most, for each that has one, in a piece that sets them.
const atMostBare = 3

var (
	near          = score.Whole(1) // quarters from the end of the altered note
	nearInMeasure = score.Whole(2)
)

// fewBetween notes of the staff, at most, are struck between an altered note and the one that is as before, so that it is still in the ear.
const fewBetween = 1

// report tells the places of one kind that have no sign, where the piece does not leave most of them so.
func report(p *lint.Inspection, places []place, message string) {
	var found []place
	for _, x := range places {
		if !x.signed {
			found = append(found, x)
		}
	}
	if len(found) > max(1, len(places)-len(found)) {
		return
	}
	for _, x := range found {
		p.Report(lint.Finding{
			Notes:   []int{x.n, x.after},
			Message: fmt.Sprintf(message, p.Score.Notes[x.n].Pitch, p.Score.Notes[x.after].Pitch),
			Fix:     "set a courtesy sign, if the note is right", Together: lint.OnceAPiece,
		})
	}
}

// each calls f with the notes of keyboards that need no sign and come, in their measure or from the one before, after a note of their
// letter that was altered otherwise and after none that was as they are: on their staff, or else on the other.
func each(p *lint.Inspection, f func(place)) {
	type letter struct {
		part, staff int // staff 0: any
		step        byte
	}
	type line struct {
		letter
		octave int8
	}
	last, onLine := map[letter]int{}, map[line]int{}
	piano := p.PianoParts()
	p.Accidentals(func(n int, state lint.AccidentalState) {
		x := &p.Score.Notes[n]
		if !piano[x.Part] {
			return
		}
		own, any := letter{x.Part, x.Staff, x.Pitch.Step}, letter{x.Part, 0, x.Pitch.Step}
		if state.InForce == int(x.Pitch.Alter) && x.TiedFrom < 0 && !x.TieStop && x.Grace == 0 {
			for k, of := range []letter{own, any} {
				m, is := last[of]
				// In the measure before, what counts is the line or space itself, and not the octave struck with it.
				if l, on := onLine[line{own, x.Pitch.Octave}]; k == 0 && on && is && p.Score.Notes[m].Measure < x.Measure {
					m = l
				}
				if is && p.Score.Notes[m].Measure >= x.Measure-1 && p.Score.Notes[m].Pitch.Alter != x.Pitch.Alter {
					f(place{n, m, state.Printed != ""})
					break
				}
			}
		}
		last[own], last[any], onLine[line{own, x.Pitch.Octave}] = n, n, n
	})
}

// strikesBetween counts the notes of a staff that are struck after one note and before another.
func strikesBetween(p *lint.Inspection, m, n int) int {
	s, count := p.Score, 0
	for k := range s.Notes {
		x := &s.Notes[k]
		if x.Measure > s.Notes[n].Measure {
			break
		}
		if x.Measure >= s.Notes[m].Measure && x.Part == s.Notes[n].Part && x.Staff == s.Notes[n].Staff && x.Kind == score.Pitched &&
			s.At(m).Less(s.At(k)) && s.At(k).Less(s.At(n)) {
			count++
		}
	}
	return count
}
