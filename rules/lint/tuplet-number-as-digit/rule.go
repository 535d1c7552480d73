// Package tupletnumberasdigit checks digits that may be the numbers of tuplets.
package tupletnumberasdigit

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a digit may be the number of a tuplet.
var Rule = &lint.Rule{
	Name:  "tuplet-number-as-digit",
	Title: "a digit may be the number of a tuplet",
	Checks: "Triplets of three equal notes that no sign of a tuplet marks and whose middle note alone has a digit, a 3: in " +
		"pieces in which two or more stand so, or in which other tuplets are marked. Told once a piece.",
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
	var found []int
	for n := range p.Score.Notes {
		if !p.Playing.Plays(n) || p.Digit(n) != 3 || len(p.Score.Notes[n].Indications) != 1 {
			continue
		}
		before, after := neighbour(p, n, -1), neighbour(p, n, 1)
		if before >= 0 && after >= 0 && triplet(p, before, n, after) && p.Digit(before) == 0 && p.Digit(after) == 0 &&
			!signed[before] && !signed[n] {
			found = append(found, n)
		}
	}
	if len(found) < 2 && len(signed) == 0 {
		return
	}
	slices.Sort(found)
	for _, n := range found {
		p.Report(lint.Finding{
			Notes: []int{n}, Message: "the 3 at " + p.Score.Notes[n].Pitch.String() + " may be the number of the triplet",
			Fix: "make it the number, if no finger is meant", Together: lint.OnceAPiece,
		})
	}
}

// neighbour is the note that stands before (-1) or after (1) another in its voice, struck alone; -1 for none.
func neighbour(p *lint.Inspection, n, by int) int {
	m := n + by
	if m < 0 || m >= len(p.Score.Notes) {
		return -1
	}
	a, b := &p.Score.Notes[n], &p.Score.Notes[m]
	if a.Part != b.Part || a.Measure != b.Measure || a.Voice != b.Voice || b.Kind != score.Pitched || a.Chord || b.Chord {
		return -1
	}
	return m
}

// triplet says that three notes that follow each other are a triplet of equal notes.
func triplet(p *lint.Inspection, a, b, c int) bool {
	x, y, z := &p.Score.Notes[a], &p.Score.Notes[b], &p.Score.Notes[c]
	return x.Tuplet.Actual == 3 && y.Tuplet == x.Tuplet && z.Tuplet == x.Tuplet && x.Duration == y.Duration &&
		y.Duration == z.Duration && lint.Dyadic(x.Onset) && !lint.Dyadic(y.Onset) && x.Onset.Add(x.Duration) == y.Onset &&
		y.Onset.Add(y.Duration) == z.Onset
}
