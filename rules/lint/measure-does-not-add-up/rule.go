// Package measuredoesnotaddup passes on which measures do not add up.
package measuredoesnotaddup

import (
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule reports measures whose music does not add up to the metre.
var Rule = &lint.Rule{
	Name:  "measure-does-not-add-up",
	Title: "a measure does not add up",
	Checks: "What the notes and rests of a measure last against its time signature, staff by staff where no voice " +
		"goes over to another, and shifts of position that lead out of the measure (its sum is left alone then). Pickups, measures split at a " +
		"repeat and unmeasured passages are accepted. And the one measure within a piece in which a staff of the piano has not even a rest.",
	Why: "Where a measure lacks a beat, everything that is worked out from time (what sounds together, held keys, " +
		"tempo) may be wrong in it, and the text itself may have a slip.",
	Before:   "3/4: a half note and an eighth",
	After:    "3/4: a half note and a quarter",
	Severity: lint.Note,
	Since:    "0.1",
	Options:  []string{"lint_options.text"},
	Text:     true,
	Run: func(p *lint.Inspection) {
		p.ReportOddities(ownSums(p.Score.Oddities), score.OddMeasureLength, score.OddBackup, score.OddMissingMeasure)
		blank(p)
	},
}

// ownSums leaves out sums that are wrong by a backup out of the measure: it is told by itself, and where the music after it
// begins nobody knows.
func ownSums(all []score.Oddity) []score.Oddity {
	type place struct{ part, measure int }
	lost := map[place]bool{}
	for _, o := range all {
		if o.Kind == score.OddBackup {
			lost[place{o.Part, o.Measure}] = true
		}
	}
	return slices.DeleteFunc(slices.Clone(all), func(o score.Oddity) bool {
		return o.Kind == score.OddMeasureLength && lost[place{o.Part, o.Measure}]
	})
}
