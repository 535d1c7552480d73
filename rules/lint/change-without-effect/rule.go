// Package changewithouteffect checks that changes of clef, key and metre change something.
package changewithouteffect

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a change of clef, key or metre changes nothing.
var Rule = &lint.Rule{
	Name:  "change-without-effect",
	Title: "a change of clef, key or metre changes nothing",
	Checks: "Clefs, key signatures and time signatures that are set within the piece while the same one is in force on " +
		"their staff. What is not shown is left alone, and so is what stands after a double barline or a repeat, where " +
		"it may be a reminder.",
	Why:      "The reader looks for a change that is not there. One of the two signs is mostly wrong.",
	Before:   "bass clef in m. 1, bass clef again in m. 7",
	After:    "the second one taken out, or made the treble clef that was meant",
	Severity: lint.Note,
	Since:    "0.5",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run:      run,
}

func run(p *lint.Inspection) {
	type place struct {
		kind        score.ItemKind
		part, staff int
	}
	inForce := map[place]string{}
	piano := p.PianoParts()
	for _, k := range inTime(p) {
		i := &p.Score.Items[k]
		if !piano[i.Part] || i.Kind != score.ItemClef && i.Kind != score.ItemKey && i.Kind != score.ItemMetre {
			continue
		}
		at := place{i.Kind, i.Part, i.Staff}
		reading, hidden := strings.CutSuffix(i.Reading, lint.NotShown)
		if before, set := inForce[at]; set && before == reading && !hidden && !reminder(p, i) {
			p.ReportItem(i, lint.Finding{
				Message: fmt.Sprintf("%s is set here and is in force already", reading), Fix: "take it out, or correct one of the two",
			})
		}
		inForce[at] = reading
		if i.Staff == 0 && i.Kind != score.ItemClef { // for all staves
			for other := range 5 {
				delete(inForce, place{i.Kind, i.Part, other + 1})
			}
		} else {
			delete(inForce, place{i.Kind, i.Part, 0})
		}
	}
}

// reminder says that a section may begin where a sign stands.
func reminder(p *lint.Inspection, i *score.Item) bool {
	if i.Onset.Sign() != 0 || i.Measure == 0 {
		return i.Measure == 0 && i.Onset.Sign() == 0
	}
	if p.Score.Measures[i.Measure].Repeat.Forward || p.Score.Measures[i.Measure-1].Repeat.Backward {
		return true
	}
	for k := range p.Score.Items {
		b := &p.Score.Items[k]
		if b.Kind == score.ItemBarline && (b.Measure == i.Measure-1 || b.Measure == i.Measure && b.Onset.Sign() == 0) {
			return true
		}
	}
	return false
}

// inTime lists what stands on the page by when it stands there: a staff that is written after another goes back.
func inTime(p *lint.Inspection) []int {
	out := make([]int, len(p.Score.Items))
	for k := range out {
		out[k] = k
	}
	slices.SortStableFunc(out, func(a, b int) int {
		x, y := &p.Score.Items[a], &p.Score.Items[b]
		return cmp.Or(cmp.Compare(x.Measure, y.Measure), x.Onset.Cmp(y.Onset))
	})
	return out
}
