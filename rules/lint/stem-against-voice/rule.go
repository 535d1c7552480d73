// Package stemagainstvoice checks that two voices of a staff keep their stems apart.
package stemagainstvoice

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: two voices of a staff have stems to the same side.
var Rule = &lint.Rule{
	Name:  "stem-against-voice",
	Title: "two voices of a staff have stems to the same side",
	Checks: "Notes of two voices that are struck together on one staff and last differently: the upper voice's " +
		"stems point up, the lower's down; and of two voices, however long, the upper with its stem down and the lower with its up; and the one measure in which " +
		"two voices, the one above the other, have all their stems to one side. Where a staff does otherwise in more than one measure, or has few such places, " +
		"that is how it is written, and nothing is said, unless the file leaves all other stems to the engraver.",
	Why:      "With both stems to one side nobody sees which note belongs to which voice.",
	Before:   "upper voice: C5 with its stem down; lower voice: E4 with its stem down",
	After:    "the stem of C5 up",
	Severity: lint.Note,
	Since:    "0.16",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

// A slip is what stands at so few places of a piece that keeps its voices apart at so many.
const (
	fewSlips  = 1
	slipAmong = 10
)

// near is, in semitones, how far the voices lie apart at most so that their stems meet.
const near = 12

// pair is two notes struck together in two voices of one staff, the upper first.
type pair struct{ upper, lower int }

// fewStems is one in how many notes of a part has a stem of its own where the file leaves stems to the engraver.
const fewStems = 50

func run(p *lint.Inspection) {
	ofPairs(p)
	wholeMeasures(p)
}

func ofPairs(p *lint.Inspection) {
	type staff struct{ part, staff int }
	wrong, right := map[staff][]pair{}, map[staff]int{}
	var order []staff
	s := p.Score
	for _, x := range pairs(p) {
		upper, lower := &s.Notes[x.upper], &s.Notes[x.lower]
		a, b := upper.Stem, lower.Stem
		at := staff{upper.Part, upper.Staff}
		switch {
		case a == up && b == down:
			right[at]++
			continue
		case a == down && b == up && upper.Voice < lower.Voice: // else the voices cross
		case a == b && upper.Duration == lower.Duration: // drawn as one chord
			continue
		case a == b && upper.Midi-lower.Midi <= near:
		default:
			continue
		}
		if wrong[at] == nil {
			order = append(order, at)
		}
		wrong[at] = append(wrong[at], x)
	}
	for _, at := range order {
		if measures(s, wrong[at]) > fewSlips || right[at] < slipAmong && !leavesStems(p, at.part) {
			continue
		}
		for _, x := range wrong[at] {
			a, b := &s.Notes[x.upper], &s.Notes[x.lower]
			if a.Stem != b.Stem {
				p.Report(lint.Finding{
					Notes:   []int{x.upper, x.lower},
					Message: fmt.Sprintf("%s is the upper voice's and has its stem down, and %s below it up", a.Pitch, b.Pitch), Fix: "turn both stems",
				})
				continue
			}
			p.Report(lint.Finding{
				Notes:   []int{x.upper, x.lower},
				Message: fmt.Sprintf("%s and %s are of two voices and have both their stems %s", a.Pitch, b.Pitch, a.Stem),
				Fix:     "turn the stem of one of them",
			})
		}
	}
}

// measures counts the measures in which pairs stand.
func measures(s *score.Score, pairs []pair) int {
	seen := map[int]bool{}
	for _, x := range pairs {
		seen[s.Notes[x.upper].Measure] = true
	}
	return len(seen)
}

// leavesStems says that a file leaves the stems of a part to the engraver, but for a few.
func leavesStems(p *lint.Inspection, part int) bool {
	all, stems := 0, 0
	for n := range p.Score.Notes {
		if x := &p.Score.Notes[n]; x.Part == part && x.Kind == score.Pitched && x.Grace == 0 {
			all++
			if stemmed(x.Stem) {
				stems++
			}
		}
	}
	return stems*fewStems <= all || stems <= 2
}

// pairs lists what two voices of a staff strike together, where there are just two, each with a stem.
func pairs(p *lint.Inspection) (out []pair) {
	type place struct {
		part, staff int
		at          score.Fraction
	}
	type chord struct {
		voice     string
		low, high int
		stem      string
	}
	var order []place
	crowded := map[place]bool{}
	at := map[place][]chord{}
	s := p.Score
	for n := range s.Notes {
		note := &s.Notes[n]
		if note.Kind != score.Pitched || note.Grace > 0 || note.Cue || note.Hidden {
			continue
		}
		k := place{note.Part, note.Staff, s.At(n)}
		if note.HomeStaff != note.Staff {
			crowded[k] = true // a third voice, from the other staff
			continue
		}
		chords, is := at[k]
		if !is {
			order = append(order, k)
		}
		found := false
		for i := range chords {
			c := &chords[i]
			if c.voice != note.Voice {
				continue
			}
			found = true
			if note.Midi < s.Notes[c.low].Midi {
				c.low = n
			}
			if note.Midi > s.Notes[c.high].Midi {
				c.high = n
			}
			if c.stem == "" {
				c.stem = note.Stem
			}
		}
		if !found {
			chords = append(chords, chord{note.Voice, n, n, note.Stem})
		}
		at[k] = chords
	}
	for _, k := range order {
		c := at[k]
		if len(c) != 2 || crowded[k] || !stemmed(c[0].stem) || !stemmed(c[1].stem) {
			continue
		}
		switch {
		case s.Notes[c[0].low].Midi > s.Notes[c[1].high].Midi:
			out = append(out, pair{c[0].low, c[1].high})
		case s.Notes[c[1].low].Midi > s.Notes[c[0].high].Midi:
			out = append(out, pair{c[1].low, c[0].high})
		}
	}
	return out
}

// The sides of stems (MusicXML 4.0, stem-value).
const up, down = "up", "down"

func stemmed(stem string) bool { return stem == up || stem == down }
