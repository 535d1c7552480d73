// Package substitutiontoofast checks the time for a change of finger.
package substitutiontoofast

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: there is no time to change the finger.
var Rule = &lint.Rule{
	Name:  "substitution-too-fast",
	Title: "there is no time to change the finger",
	Checks: "Changes of finger on one key, ties followed, against the time that a silent change needs by the " +
		"policy (`change_ms`). A staccato note of a quarter or less has no time for one. Signs that stand for more notes are left alone, and so are rows of three and more " +
		"fingers, which stand for strokes, and three single notes and more in a row with two digits each: two fingerings are taken to stand one above the other. Where the tempo is inferred it is at most a note.",
	Why:      "A change that is too fast is not made, and the hand is left on the wrong finger for what follows.",
	Before:   "sixteenth at quarter = 152: G4 with 5-4",
	After:    "a quarter note with 5-4, or one finger",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.2",
	Options:  []string{"change_ms"},
	Run:      run,
}

func run(p *lint.Inspection) {
	for n := range p.Score.Notes {
		note := &p.Score.Notes[n]
		if len(note.Indications) == 0 || len(note.Ornaments) > 0 || note.Tremolo.Strokes > 0 || note.Grace > 0 ||
			len(p.Playing.Together(n)) > 1 || note.TiedFrom >= 0 {
			continue
		}
		if p.DigitsAt(n) != 2 || !p.ChangesFinger(n) || inRow(p, n) || p.RowsNear(n) {
			continue
		}
		if note.Marks&score.LetGo != 0 && note.TiedTo < 0 && note.Duration.Cmp(score.Whole(1)) <= 0 {
			p.Report(lint.Finding{
				Severity: lint.Note, Notes: []int{n},
				Message: fmt.Sprintf("a change from %d to %d stands on %s, which is staccato", p.Digit(n), p.HoldingFinger(n), note.Pitch),
				Fix:     "use one finger, or take the dot out",
			})
			continue
		}
		time := (p.Ends[p.LastTied(n)] - p.Micros[n]) / 1000
		if time >= int64(p.ChangeMillis) || time <= 0 {
			continue
		}
		severity := p.AtTempo()
		if nearly*time >= (nearly-1)*int64(p.ChangeMillis) {
			severity = lint.Note
		}
		p.Report(lint.Finding{
			Severity: severity, Notes: []int{n},
			Message: fmt.Sprintf(
				"%d ms for a change from %d to %d on %s; it needs about %d", time, p.Digit(n), p.HoldingFinger(n),
				note.Pitch,
				p.ChangeMillis,
			),
			Fix: "use one finger, or change on a longer note",
		})
	}
}

// nearly is the part of the time, one in so many, by which it may be too short and the finding is a note.
const nearly = 4

// inRow says that two digits stand at the notes beside one as well: they are two fingerings of a passage, one above the
// other.
func inRow(p *lint.Inspection, n int) bool {
	st := p.Playing.Stroke(n)
	if st == nil {
		return false
	}
	strokes, count := p.Playing.Lines[st.Line].Strokes, 1
	two := func(i int) bool {
		return i >= 0 && i < len(strokes) && len(strokes[i].Notes) == 1 && p.DigitsAt(strokes[i].Notes[0]) == 2
	}
	for i := st.Index - 1; two(i); i-- {
		count++
	}
	for i := st.Index + 1; two(i); i++ {
		count++
	}
	return count > 1
}
