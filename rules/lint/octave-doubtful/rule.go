// Package octavedoubtful checks for notes that stand an octave off.
package octavedoubtful

import (
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a note seems to stand an octave off.
var Rule = &lint.Rule{
	Name:  "octave-doubtful",
	Title: "a note seems to stand an octave off",
	Checks: "Single notes of an even line that leap away by an octave or so and back, where the note an octave nearer would be " +
		"a step of the scale that the line goes through. Left alone is what comes more than once in a piece.",
	Why:      "An octave is one key of the keyboard or one number off, and the slip is easily overheard in playback.",
	Before:   "C5 D5 E6 F5 G5",
	After:    "C5 D5 E5 F5 G5",
	Severity: lint.Note,
	Since:    "0.16",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

const (
	around   = 2 // notes on either side that must move evenly
	step     = 2 // semitones from a neighbour, an octave nearer
	leapFrom = 9
	compass  = 12
	fewSlips = 1
)

func run(p *lint.Inspection) {
	type voice struct {
		part, staff int
		name        string
	}
	s := p.Score
	rows := map[voice][]int{}
	var order []voice
	for _, n := range inOrder(p) {
		note := &s.Notes[n]
		if !p.Shows(n) || note.Grace > 0 {
			continue
		}
		v := voice{note.Part, note.Staff, note.Voice}
		if rows[v] == nil {
			order = append(order, v)
		}
		rows[v] = append(rows[v], n)
	}
	var found []int
	for _, v := range order {
		row := rows[v]
		for i := around; i+around < len(row); i++ {
			if offAnOctave(p, row[i-around:i+around+1]) {
				found = append(found, row[i])
			}
		}
	}
	if len(found) > fewSlips {
		return
	}
	for _, n := range found {
		p.Report(lint.Finding{
			Notes: []int{n}, Message: fmt.Sprintf("%s lies an octave away from the line around it", s.Notes[n].Pitch),
			Fix: "check the octave",
		})
	}
}

// inOrder lists the notes of all parts by when they begin.
func inOrder(p *lint.Inspection) []int {
	out := make([]int, len(p.Score.Notes))
	for n := range out {
		out[n] = n
	}
	slices.SortStableFunc(out, func(a, b int) int { return p.Score.At(a).Cmp(p.Score.At(b)) })
	return out
}

// offAnOctave says that the note in the middle of a row would move with the others an octave nearer, and leaps as it is.
func offAnOctave(p *lint.Inspection, row []int) bool {
	s := p.Score
	low, high := 128, 0
	for i, n := range row {
		note := &s.Notes[n]
		if note.Kind != score.Pitched || note.TieStart || note.TieStop || i > 0 && s.At(row[i-1]).Add(s.Notes[row[i-1]].Duration) != s.At(n) {
			return false // a rest, a chord, a tie or a gap
		}
		if i == around {
			continue
		}
		low, high = min(low, note.Midi), max(high, note.Midi)
	}
	midi := s.Notes[row[around]].Midi
	before, after := s.Notes[row[around-1]].Midi, s.Notes[row[around+1]].Midi
	if high-low > compass || low <= midi && midi <= high {
		return false
	}
	off := 12
	if midi > high {
		off = -12
	}
	nearer := midi + off
	between := before < nearer && nearer < after || after < nearer && nearer < before // the line goes through it
	near := func(a int) bool { return -step <= nearer-a && nearer-a <= step }
	leap := func(a int) bool { return midi-a >= leapFrom || a-midi >= leapFrom }
	return between && near(before) && near(after) && leap(before) && leap(after) && evenly(p, row) && scale(p, row, nearer)
}

// scale says that the notes around, with the one in the middle an octave nearer, are five of a scale.
func scale(p *lint.Inspection, row []int, nearer int) bool {
	up := p.Score.Notes[row[around-1]].Midi < nearer
	for i := around - 1; i <= around+2; i++ {
		key := func(k int) int {
			if k == around {
				return nearer
			}
			return p.Score.Notes[row[k]].Midi
		}
		by := key(i) - key(i-1)
		if !up {
			by = -by
		}
		if by <= 0 || by > step {
			return false
		}
	}
	return true
}

// evenly says that the notes next to the middle of a row are about as long as it, and that it is no longer than an eighth.
func evenly(p *lint.Inspection, row []int) bool {
	s := p.Score
	d := s.Notes[row[around]].Duration
	like := func(o score.Fraction) bool { // as long, or nearly: runs change their tuplets on the way
		return o.Cmp(d.Add(d)) <= 0 && d.Cmp(o.Add(o)) <= 0
	}
	return like(s.Notes[row[around-1]].Duration) && like(s.Notes[row[around+1]].Duration) && d.Cmp(score.Whole(1)) <= 0
}
