// Package digitonsungnote checks that digits stand at notes that fingers play.
package digitonsungnote

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a digit stands at a note that is sung.
var Rule = &lint.Rule{
	Name:  "digit-on-sung-note",
	Title: "a digit stands at a note that is sung",
	Checks: "Fingerings in parts that have syllables under their notes and that no keyboard plays. Where such a part has " +
		"more than a few digits, they are counted as no slip, and nothing is said: somebody plays it, too.",
	Why:      "A voice has no fingers. The digit belongs to the piano below it, or is the number of a verse or a tuplet.",
	Before:   "the singer's E4 with 5, the piano's E4 below it without a digit",
	After:    "the piano's E4 with 5",
	Severity: lint.Warning,
	Since:    "0.24",
	Run:      run,
}

// few is how many digits of a sung part are slips.
const few = 4

func run(p *lint.Inspection) {
	s := p.Score
	sung := map[int]bool{}
	for k := range s.Items {
		if i := &s.Items[k]; i.Kind == score.ItemLyric && i.Part >= 0 {
			sung[i.Part] = true
		}
	}
	at := map[int][]int{} // notes with digits, by part
	for n := range s.Notes {
		x := &s.Notes[n]
		if !sung[x.Part] || p.PianoParts()[x.Part] || x.Hidden {
			continue
		}
		for k := range x.Indications {
			if !x.Indications[k].Hidden {
				at[x.Part] = append(at[x.Part], n)
				break
			}
		}
	}
	for part := range s.Parts {
		if len(at[part]) > few {
			continue
		}
		for _, n := range at[part] {
			x := &s.Notes[n]
			ind := &x.Indications[0]
			of := x.Pitch.String()
			if x.Kind != score.Pitched {
				of = "a rest"
			}
			p.Report(lint.Finding{
				Notes: []int{n}, Line: ind.Line, Column: ind.Column,
				Message: fmt.Sprintf("the digit %s stands at %s of the part %q, which is sung", ind.Text, of, s.Parts[part].Name),
				Fix:     "set it at its note of the piano, or take it out",
			})
		}
	}
}
