// Package tupletnumberasdigit checks digits that may be the numbers of tuplets.
package tupletnumberasdigit

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a digit may be the number of a tuplet.
var Rule = &lint.Rule{
	Name:  "tuplet-number-as-digit",
	Title: "a digit may be the number of a tuplet",
	Checks: "Triplets and quintuplets of equal notes or chords that no sign of a tuplet marks and whose middle " +
		"one alone has a digit, a 3 or 5: in pieces in which two or more stand so, in which other tuplets are " +
		"marked, or which have no other digits; there any note of the tuplet. Told once a piece.",
	Why:      "Programs that read pages take the number over a triplet for a fingering. The reader gets a finger that nobody meant.",
	Before:   "C5 D5 E5 as a triplet without a number, D5 with the fingering 3",
	After:    "the 3 made the number of the triplet",
	Severity: lint.Note,
	Since:    "0.6",
	Run:      run,
}

func run(p *lint.Inspection) {
	signed := map[int]bool{}
	for k := range p.Score.Items {
		if i := &p.Score.Items[k]; i.Kind == score.ItemTuplet && i.Note >= 0 {
			signed[i.Note] = true
		}
	}
	var found, alike []int // alike: all that have the number of their tuplet
	digits := 0
	for n := range p.Score.Notes {
		if !p.Playing.Plays(n) || p.Digit(n) == 0 {
			continue
		}
		digits++
		if names[p.Digit(n)] != "" && p.Score.Notes[n].Tuplet.Actual == p.Digit(n) {
			alike = append(alike, n)
		}
		if row := tuplet(p, n); row != nil && len(p.Score.Notes[n].Indications) == 1 && !marked(p, row, n, signed) {
			found = append(found, n)
		}
	}
	if len(alike) == digits {
		found = alike // the piece has no other digits
	}
	if len(found) < 2 && len(signed) == 0 && digits > len(found) {
		return
	}
	for _, n := range found {
		p.Report(lint.Finding{
			Notes: []int{n},
			Message: fmt.Sprintf(
				"the %d at %s may be the number of the %s", p.Digit(n), p.Score.Notes[n].Pitch, names[p.Digit(n)],
			),
			Fix: "make it the number, if no finger is meant", Together: lint.OnceAPiece,
		})
	}
}

var names = map[int]string{3: "triplet", 5: "quintuplet"}

// tuplet gives the notes, one of each chord, of the tuplet in whose middle a note stands with the tuplet's number as its
// digit: as many equal ones as the number says. Nil for none.
func tuplet(p *lint.Inspection, n int) []int {
	note := &p.Score.Notes[n]
	many := p.Digit(n)
	if note.Tuplet.Actual != many || names[many] == "" {
		return nil
	}
	first := n
	for range many / 2 {
		if first = neighbour(p, first, -1); first < 0 {
			return nil
		}
	}
	row := []int{first}
	for len(row) < many {
		m := neighbour(p, row[len(row)-1], 1)
		if m < 0 {
			return nil
		}
		row = append(row, m)
	}
	for k, m := range row {
		x := &p.Score.Notes[m]
		if x.Tuplet != note.Tuplet || x.Duration != note.Duration || lint.Dyadic(x.Onset) != (k == 0) ||
			k > 0 && p.Score.Notes[row[k-1]].Onset.Add(x.Duration) != x.Onset {
			return nil
		}
	}
	return row
}

// marked says that a note of a tuplet has the sign of one, or one other than the middle has a digit.
func marked(p *lint.Inspection, row []int, middle int, signed map[int]bool) bool {
	for _, m := range row {
		for _, x := range chordOf(p, m) {
			if signed[x] || x != middle && p.Digit(x) > 0 {
				return true
			}
		}
	}
	return false
}

// neighbour is a note of what stands before (-1) or after (1) a note in its voice; -1 for a rest or the measure's end.
func neighbour(p *lint.Inspection, n, by int) int {
	a := &p.Score.Notes[n]
	for m := n + by; m >= 0 && m < len(p.Score.Notes); m += by {
		b := &p.Score.Notes[m]
		if a.Part != b.Part || a.Measure != b.Measure || a.Voice != b.Voice || b.Kind != score.Pitched {
			return -1
		}
		if b.Onset != a.Onset && b.Grace == 0 {
			return m
		}
	}
	return -1
}

// chordOf lists the notes of a voice that begin with a note.
func chordOf(p *lint.Inspection, n int) (out []int) {
	a := &p.Score.Notes[n]
	for _, by := range []int{-1, 1} {
		for m := n; m >= 0 && m < len(p.Score.Notes); m += by {
			b := &p.Score.Notes[m]
			if b.Measure != a.Measure || b.Voice != a.Voice || b.Onset != a.Onset {
				break
			}
			out = append(out, m)
		}
	}
	return out
}
