// Package decisionunplaced checks whether decisions find their notes.
package decisionunplaced

import "fingerproof/rules/lint"

// Rule reports decisions whose note is gone.
var Rule = &lint.Rule{
	Name:  "decision-unplaced",
	Title: "a decision has lost its note",
	Checks: "Decisions of which a note cannot be found surely in the score as it stands. They are kept, and what they say of " +
		"that note is applied nowhere; the other digits of the entry hold. Where a neighbouring key stands in its place, as after a " +
		"correction, its digit is suggested for that, and asked. What was decided twice is told once, and what a finding that was let " +
		"stand has lost needs no answer. Once the note that stands there now is decided, " +
		"nothing is said of it any more.",
	Why:      "An editor decided something there; the text has changed under it.",
	Before:   "a decision on G4, where the corrected text has A4",
	After:    "A4 is decided, or the entry is taken out",
	Severity: lint.Warning,
	Since:    "0.1",
	Run:      (*lint.Inspection).ReportRemarks,
}
