// Package weakpairinornament checks the fingers of ornaments.
package weakpairinornament

import (
	"fmt"

	"fingerproof/corpus/score/playing"
	"fingerproof/rules/lint"
)

// Rule: an ornament is given to a weak pair of fingers.
var Rule = &lint.Rule{
	Name:  "weak-pair-in-ornament",
	Title: "an ornament is given to a weak pair of fingers",
	Checks: "Trills, turns and mordents, and quick alternations of two keys, with a digit 4 and 5 side by side: " +
		"printed at the sign, or on the two keys.",
	Why: "The fourth and fifth finger tire first and trill unevenly. Where the hand is free, 1 3, 2 3 or 1 2 " +
		"serves better; if it must be, a word to the editor does no harm.",
	Before:   "trill on G5 with 4 5",
	After:    "trill on G5 with 2 3",
	Severity: lint.Note,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if len(note.Ornaments) == 0 || !p.Playing.Plays(n) {
			continue
		}
		var row []int
		for k := range note.Indications {
			if ind := &note.Indications[k]; !ind.Alternate && !ind.Hidden {
				row = append(row, ind.Fingers...)
			}
		}
		for i := 1; i < len(row); i++ {
			if weak(row[i-1], row[i]) {
				report(p, n, []int{n})
				break
			}
		}
	}
	for _, l := range p.Playing.Lines {
		alternating := 0
		for i := 2; i < len(l.Strokes); i++ {
			a, b, c := l.Strokes[i-2].Notes, l.Strokes[i-1].Notes, l.Strokes[i].Notes
			key := func(s []int) int { return p.Score.Notes[s[0]].Midi }
			if len(a)+len(b)+len(c) != 3 || key(a) != key(c) || key(a) == key(b) || p.Semitones(a[0], b[0]) > 2 ||
				p.Gap(a[0], b[0]) <= 0 || p.Gap(a[0], b[0]) > quick {
				alternating = 0
				continue
			}
			if alternating++; alternating == strokes && weakStart(p, l.Strokes[i-1-strokes:i+1]) {
				n := l.Strokes[i-1-strokes].Notes[0]
				report(p, n, []int{n, l.Strokes[i-strokes].Notes[0]})
			}
		}
	}
}

const (
	quick   = 150_000 // microseconds from stroke to stroke of a written-out trill
	strokes = 4       // so many that go back to the key before last make one
)

// weakStart says that 4 and 5 stand side by side in a written-out trill.
func weakStart(p *lint.Inspection, s []playing.Stroke) bool {
	for i := 1; i < len(s); i++ {
		if weak(p.Digit(s[i-1].Notes[0]), p.Digit(s[i].Notes[0])) {
			return true
		}
	}
	return false
}

func weak(a, b int) bool { return a == 4 && b == 5 || a == 5 && b == 4 }

func report(p *lint.Inspection, n int, notes []int) {
	p.Report(lint.Finding{
		Notes:   notes,
		Message: fmt.Sprintf("the ornament on %s is given to 4 and 5", p.Score.Notes[n].Pitch),
		Fix:     "use a stronger pair, unless the hand holds other keys",
	})
}
