// Package decisioncontradiction checks whether editors agree.
package decisioncontradiction

import "fingerproof/rules/lint"

// Rule reports notes on which editors differ.
var Rule = &lint.Rule{
	Name:     "decision-contradiction",
	Title:    "two editors decided differently",
	Checks:   "Notes for which the decisions of two editors give different digits. Of one editor the last word counts.",
	Why:      "Neither can be printed as the edition's before they agree; until then the note is open.",
	Before:   "AB decides 3 for G4, CD decides 2",
	After:    "one of the two entries is taken out, or both say 3",
	Severity: lint.Error,
	Since:    "0.1",
	Run:      (*lint.Inspection).ReportRemarks,
}
