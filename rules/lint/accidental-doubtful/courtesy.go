package accidentaldoubtful

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// fewAdded is from how many needed signs in parentheses on an editor of the piece marks what was added so (common practice).
const fewAdded = 2

// inParentheses reports a sign that a note needs and that stands in parentheses as if it only reminded.
func inParentheses(p *lint.Inspection) {
	var needed []int
	words := map[int]lint.AccidentalState{}
	p.Accidentals(func(n int, state lint.AccidentalState) {
		note := &p.Score.Notes[n]
		if _, says, known := state.Says(); known && state.Enclosed && says == int(note.Pitch.Alter) && state.InForce != says && note.TiedFrom < 0 && !state.Alike {
			needed = append(needed, n)
			words[n] = state
		}
	})
	if len(needed) == 0 || len(needed) >= fewAdded {
		return
	}
	n := needed[0]
	note := &p.Score.Notes[n]
	word, _, _ := words[n].Says()
	p.Report(lint.Finding{
		Notes: []int{n}, Severity: lint.Note,
		Message: fmt.Sprintf("the %s at %s stands in parentheses as a reminder, and without it the note reads as %s", word, note.Pitch,
			score.Pitch{Step: note.Pitch.Step, Alter: int8(words[n].InForce), Octave: note.Pitch.Octave}),
		Fix: "print it without them, if no editor added it",
	})
}
