// Package staffdoubtful checks notes that cross over to the other staff.
package staffdoubtful

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a note crosses over to a staff from which it lies farther away.
var Rule = &lint.Rule{
	Name:  "staff-doubtful",
	Title: "a note stands on a staff from which it lies far away",
	Checks: "Notes of the piano, by the clefs in force: one that stands on the other staff than its voice, or " +
		"alone between notes of its hand on the other staff, and there needs three ledger lines and more, where " +
		"its own staff has room for it, or lies nearer by an octave. Where a piece has more than three such notes, that is how it is written.",
	Why:      "Notes cross over to save ledger lines (common practice). One that needs more of them has lost the number of its staff.",
	Before:   "the left hand's F2 on the upper staff",
	After:    "F2 on the lower staff",
	Severity: lint.Warning,
	Since:    "0.20",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

const (
	farAway  = 10 // steps from the middle line: three ledger lines
	atHome   = 7  // one ledger line and the space beyond it
	farther  = 8  // or so many steps nearer to its own staff
	fewSlips = 3
)

func run(p *lint.Inspection) {
	s := p.Score
	clefs := p.Clefs()
	var found []int
	for n := range s.Notes {
		x := &s.Notes[n]
		if x.Kind != score.Pitched || !p.Playing.Plays(n) || s.Parts[x.Part].Staves != 2 || x.Hidden || x.Cue {
			continue
		}
		here, known := clefs.Middle(x.Part, x.Staff, s.At(n))
		there, alsoKnown := clefs.Middle(x.Part, 3-x.Staff, s.At(n))
		place := Place(p, n)
		if !known || !alsoKnown || distance(place, here) < farAway || distance(place, there) > atHome && distance(place, here)-distance(place, there) < farther {
			continue
		}
		if (x.HomeStaff != x.Staff || alone(p, n)) && allFar(p, n, here) {
			found = append(found, n)
		}
	}
	if len(found) > fewSlips {
		return
	}
	for _, n := range found {
		x := &s.Notes[n]
		p.Report(lint.Finding{
			Notes: []int{n}, Message: fmt.Sprintf("%s stands on the %s staff and lies near the other one", x.Pitch, [...]string{1: "upper", 2: "lower"}[x.Staff]),
			Fix: "set it on the other staff, or correct the octave", Together: fmt.Sprint("staff ", x.Staff),
		})
	}
}

// allFar says that the notes on the stem of a note lie as far from the staff as it does: else the chord has its staff from
// the others.
func allFar(p *lint.Inspection, n, middle int) bool {
	s := p.Score
	for m := range s.Notes {
		y := &s.Notes[m]
		if m != n && y.Kind == score.Pitched && y.Measure == s.Notes[n].Measure && y.InVoiceOf(&s.Notes[n]) && y.Onset == s.Notes[n].Onset &&
			y.Grace == 0 && distance(Place(p, m), middle) < farAway {
			return false
		}
	}
	return true
}

// Place is where a note stands, as lint.Place counts, octave lines taken off.
func Place(p *lint.Inspection, n int) int {
	return lint.Place(p.Score.Notes[n].Pitch) - 7*p.OctavesAbove(n)
}

func distance(a, b int) int { return max(a-b, b-a) }

// alone says that no other note of a voice stands on the staff of one in its measure, and that the voice has notes on the
// other staff in this measure or the next.
func alone(p *lint.Inspection, n int) bool {
	s := p.Score
	x := &s.Notes[n]
	other := false
	for m := max(x.Measure-1, 0); m <= x.Measure+1; m++ {
		for _, k := range p.InMeasure(m) {
			y := &s.Notes[k]
			if k == n || y.Part != x.Part || y.Voice != x.Voice || y.Kind != score.Pitched {
				continue
			}
			if y.Staff == x.Staff {
				return false
			}
			other = true
		}
	}
	return other
}
