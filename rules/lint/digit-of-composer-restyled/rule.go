// Package digitofcomposerrestyled checks that the composer's digits look their own.
package digitofcomposerrestyled

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a digit of the composer looks like somebody else's.
var Rule = &lint.Rule{
	Name:  "digit-of-composer-restyled",
	Title: "a digit of the composer looks like somebody else's",
	Checks: "In an edition that says how digits of each responsibility look: digits that stand alike in a witness " +
		"of the composer's and have the look of another responsibility in the text.",
	Why:      "The composer's digits must be kept visibly apart. One in the editor's look passes for the editor's.",
	Before:   "witness A, the composer's: C5 with 3; the edition: the 3 in the editor's italics",
	After:    "the 3 in the composer's look",
	Severity: lint.Error,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	if !p.Legend {
		return
	}
	look, named := p.Looks[score.Composer]
	if !named {
		return
	}
	p.WitnessDigits(func(w *lint.Witness, m, n int, text string) {
		if w.Responsibility != score.Composer || len(p.Whose[n]) == 0 || p.Whose[n][0] == score.Composer ||
			text != lint.DigitsText(&p.Score.Notes[n]) {
			return
		}
		ind := &p.Score.Notes[n].Indications[0]
		style := look
		style.Enclosure = ind.Style.Enclosure
		p.Report(lint.Finding{
			Notes: []int{n}, Line: ind.Line, Column: ind.Column,
			Message: fmt.Sprintf(
				"the %s on %s stands in witness %s, but looks like %s", ind.Text, p.Score.Notes[n].Pitch, w.Siglum,
				owners[p.Whose[n][0]],
			),
			Fix:  "set it in the composer's look",
			Edit: []score.Mark{{Note: n, Restyles: []score.Restyle{{Ordinal: 0, Style: style}}}},
		})
	})
}

// owners says whose a digit passes for.
var owners = map[score.Responsibility]string{
	score.Unattributed: "nobody's", score.Earlier: "an earlier hand's", score.Editor: "the editor's",
	score.Open: "a suggestion",
}
