// Package stylenotinlegend checks digits against the legend.
package stylenotinlegend

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule: a digit has a style that the legend does not explain.
var Rule = &lint.Rule{
	Name:  "style-not-in-legend",
	Title: "a digit has a style that the legend does not explain",
	Checks: "In an edition that says how digits of each responsibility look: digits with another look. Enclosures " +
		"are part of the text and left alone.",
	Why:      "The legend promises the reader whose each digit is; this one is nobody's.",
	Before:   "a bold italic 3; the legend knows upright bold and italic",
	After:    "the 3 in one of the two looks",
	Severity: lint.Warning,
	Since:    "0.2",
	Run:      run,
}

func run(p *lint.Inspection) {
	if !p.Legend {
		return
	}
	for n := range p.Score.Notes {
		for k := range p.Score.Notes[n].Indications {
			ind := &p.Score.Notes[n].Indications[k]
			if known(p, ind.Style) || ind.Hidden {
				continue
			}
			f := lint.Finding{
				Notes: []int{n}, Line: ind.Line, Column: ind.Column,
				Message: fmt.Sprintf(
					"the %s on %s is %s, which the legend does not explain", ind.Text, p.Score.Notes[n].Pitch,
					words(ind.Style),
				),
				Fix: "set it in the look of whoever is responsible",
			}
			p.Report(f)
		}
	}
}

func known(p *lint.Inspection, s score.Style) bool {
	for _, look := range p.Looks {
		if s.Fits(look) {
			return true
		}
	}
	return false
}

func words(s score.Style) string {
	out := "upright"
	switch {
	case s.Italic && s.Bold:
		out = "bold italic"
	case s.Italic:
		out = "italic"
	case s.Bold:
		out = "bold"
	}
	if s.Size != "" {
		out += ", size " + s.Size
	}
	if s.Colour != "" {
		out += ", " + s.Colour
	}
	return out
}
