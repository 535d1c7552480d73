// Package personalfingering checks whether an editor's fingering is made for many hands.
package personalfingering

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fingerproof/rules/lint"
)

// Rule: an editor's passage suits its maker rather than most hands.
var Rule = &lint.Rule{
	Name:  "personal-fingering",
	Title: "an editor's passage suits its maker rather than most hands",
	Checks: "Passages with at least two digits that an editor decided, drafted or typed, held against the best fingering for the hands " +
		"of the policy: where it costs most of these hands more (lint_options.personal), few editors would print it, and it " +
		"gains nothing in line, memory or tempo, or where it asks for a larger hand than the other. Left alone are passages " +
		"whose decision gives a reason, what editors print as often, what no hand can take, digits that were taken as they were suggested, the little finger on the outermost keys of chords and of the basses between them, and what the program suggests itself on the same keys elsewhere in the piece.",
	Why: "An edition is played by many hands. What one pianist plays with ease may be a hard way for most, and the " +
		"same pianist may be the last to feel it.",
	Before:   "right hand, rising by step from C4 to G4: 1 3 1 3 5, where five fingers lie on five keys",
	After:    "right hand, rising by step from C4 to G4: 1 2 3 4 5, or the other kept with a reason",
	Severity: lint.Note,
	Since:    "0.14",
	Options:  []string{"lint_options.personal", "hand", "hands.octave", "hands.ninth", "hands.tenth"},
	Run:      run,
}

func run(p *lint.Inspection) {
	for i := range p.Personal {
		q := &p.Personal[i]
		if len(q.Notes) == 0 || !ownDigit(p, q.Notes) || suggestedElsewhere(p, q) || littleFinger(p, q) {
			continue
		}
		first, last := p.Score.Notes[q.Notes[0]].Pitch, p.Score.Notes[q.Notes[len(q.Notes)-1]].Pitch
		f := lint.Finding{
			Notes:   q.Notes,
			Message: fmt.Sprintf("the editor's %s from %s to %s %s", row(q.Own), first, last, q.Says),
			Fix:     fmt.Sprintf("for the hands of this edition %s; take that, or keep it and say why", row(q.Many)),
		}
		p.Report(f)
	}
}

// ownDigit says that a digit of an editor's own stands among notes: not one that was taken as the program suggested it, and not a
// finger that nobody wrote.
func ownDigit(p *lint.Inspection, notes []int) bool {
	return slices.ContainsFunc(notes, func(n int) bool {
		return (p.Taken == nil || !p.Taken[n]) && (p.DecidedFinger(n) > 0 || p.Digit(n) > 0)
	})
}

// littleFinger says that all that is the editor's is the little finger on the outermost key of each stroke, single keys and
// chords: in a left hand that leaps between basses and chords every hand takes them so (common practice, no source), and the
// fingers of bass and chord in one row are no line.
func littleFinger(p *lint.Inspection, q *lint.Personal) bool {
	chords := 0
	for k, n := range q.Notes {
		st := p.Playing.Stroke(n)
		if st == nil || len(q.Own) != len(q.Notes) || q.Own[k] != 5 || len(st.FromThumb) == 0 || st.FromThumb[len(st.FromThumb)-1] != n {
			return false
		}
		if len(st.Notes) > 1 {
			chords++
		}
	}
	return chords > 0
}

// suggestedElsewhere says that the program takes the keys of a passage, elsewhere in the piece and where no digit stands, with the
// editor's fingers.
func suggestedElsewhere(p *lint.Inspection, q *lint.Personal) bool {
	st := p.Playing.Stroke(q.Notes[0])
	if st == nil || len(q.Own) != len(q.Notes) {
		return false
	}
	var line []int
	for i := range p.Playing.Lines[st.Line].Strokes {
		line = append(line, p.Playing.Lines[st.Line].Strokes[i].Notes...)
	}
	var at []int // where the notes of the passage are in the line
	for _, n := range q.Notes {
		at = append(at, slices.Index(line, n))
	}
	if slices.Contains(at, -1) {
		return false
	}
	for from := range line {
		by := from - at[0]
		same := by != 0
		for k, i := range at {
			same = same && i+by >= 0 && i+by < len(line) && alike(p, line[i+by], q.Notes[k], q.Own[k])
		}
		if same {
			return true
		}
	}
	return false
}

// alike says that a note without a digit has the key of another, and the finger.
func alike(p *lint.Inspection, n, of, finger int) bool {
	return p.Score.Notes[n].Midi == p.Score.Notes[of].Midi && p.Finger[n] == finger && p.Given[n] == 0
}

// row writes fingers as they are said: 1-3-2.
func row(fingers []int) string {
	const most = 8
	var out []string
	for _, f := range fingers[:min(len(fingers), most)] {
		out = append(out, strconv.Itoa(f))
	}
	if len(fingers) > most {
		out = append(out, "…")
	}
	return strings.Join(out, "-")
}
