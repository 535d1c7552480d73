// Package decisionstale checks whether decisions still hold for something.
package decisionstale

import "fingerproof/rules/lint"

// Rule reports decisions that find nothing to hold for.
var Rule = &lint.Rule{
	Name:  "decision-stale",
	Title: "a decision has expired or finds nothing to hold for",
	Checks: "Stets on findings whose day is over, and stets on digits that no longer stand; as a note, stets whose finding " +
		"is gone, since they do no harm.",
	Why:      "What was let stand for a time, or for a reason that is gone, has to be looked at anew.",
	Before:   "stet on a finding until last month",
	After:    "the entry is taken out or given a new day",
	Severity: lint.Warning,
	Mildest:  lint.Note,
	Since:    "0.1",
	Run:      (*lint.Inspection).ReportRemarks,
}
