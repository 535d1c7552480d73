// Package decisionquery passes on what editors ask.
package decisionquery

import "fingerproof/rules/lint"

// Rule reports questions to the volume editor.
var Rule = &lint.Rule{
	Name:     "decision-query",
	Title:    "an editor asks",
	Checks:   "Queries among the decisions.",
	Why:      "A question keeps a piece from press until it is answered: by a decision on its notes, or in words where it is asked.",
	Before:   "query: is the 5 in the first edition a misprint?",
	After:    "stet decision-query: no, the autograph has it too",
	Severity: lint.Note,
	Since:    "0.1",
	Run:      (*lint.Inspection).ReportRemarks,
}
