// Package responsibilitieslookalike checks that responsibilities can be told apart.
package responsibilitieslookalike

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: two responsibilities share one style.
var Rule = &lint.Rule{
	Name:  "responsibilities-look-alike",
	Title: "two responsibilities share one style",
	Checks: "The looks of the digits that this piece prints, by whose they are: two responsibilities of one look. " +
		"Size and colour alone tell nothing apart on a black and white page; enclosures do.",
	Why: "The reader cannot see whose a digit is. Telling the composer's digits from the editor's is what the " +
		"edition promises.",
	Before:   "composer and editor both upright, no enclosure",
	After:    "the editor's in italics",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

var all = []score.Responsibility{score.Composer, score.Earlier, score.Editor, score.Open}

func run(p *lint.Inspection) {
	first := map[score.Responsibility]int{}
	for n := range p.Score.Notes {
		for _, who := range p.Whose[n] {
			if _, seen := first[who]; !seen {
				first[who] = n
			}
		}
		if _, seen := first[score.Open]; !seen && p.Print != nil && p.Print[n] {
			first[score.Open] = n
		}
	}
	for i, a := range all {
		for _, b := range all[i+1:] {
			m, hasA := first[a]
			n, hasB := first[b]
			if !hasA || !hasB || a == score.Editor && b == score.Open || plain(p.Looks[a]) != plain(p.Looks[b]) {
				continue // what is open may look as the editor's own: it is decided before press
			}
			p.Report(lint.Finding{
				Notes:   []int{max(m, n), min(m, n)},
				Message: fmt.Sprintf("digits of %s and of %s responsibility look alike in this piece", a, b),
				Fix:     "give one of them a look of its own (marks in the policy)",
			})
		}
	}
}

// plain is a look as black and white shows it.
func plain(s score.Style) score.Style {
	s.Size, s.Colour = "", ""
	return s
}
