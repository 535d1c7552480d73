// Package getsnodigits says where music stands on the page that gets no digits.
package getsnodigits

import (
	"fingerproof/corpus/score"
	"fingerproof/rules/lint"
)

// Rule reports signs that stand instead of notes, and texts beside the one that is played.
var Rule = &lint.Rule{
	Name:  "gets-no-digits",
	Title: "music on the page that gets no digits",
	Checks: "Signs that repeat a measure, a beat or several measures, and slashes: digits can stand at notes alone. What is " +
		"repeated is fingered as what it repeats, where the file says it. An ossia, and small staves, are kept as they stand, and " +
		"are no part of the text that is fingered.",
	Why:      "Who reads the edition should know which measures nobody looked at, and where a digit was left out because it had no place.",
	Before:   "a measure with slashes",
	After:    "the notes that are meant",
	Severity: lint.Note,
	Since:    "0.16",
	Run:      run,
}

func run(p *lint.Inspection) { p.ReportOddities(p.Score.Oddities, score.OddNoDigits) }
