// Package decisions reports what became of the editors' decisions: those that
// contradict each other, ask, find nothing to hold for, or have lost their note.
package decisions

import "fingerproof/rules/lint"

// Names of the rules, as remarks name them.
const (
	ContradictionName = "decision-contradiction"
	QueryName         = "decision-query"
	StaleName         = "decision-stale"
	UnplacedName      = "decision-unplaced"
)

// Rules lists the rules of this package, sorted by name.
func Rules() []*lint.Rule { return []*lint.Rule{Contradiction, Query, Stale, Unplaced} }

// Contradiction reports notes on which editors differ.
var Contradiction = &lint.Rule{
	Name:     ContradictionName,
	Title:    "two editors decided differently",
	Checks:   "Notes for which the decisions of two editors give different digits. Of one editor the last word counts.",
	Why:      "Neither can be printed as the edition's before they agree; until then the note is open.",
	Before:   "AB decides 3 for G4, CD decides 2",
	After:    "one of the two entries is taken out, or both say 3",
	Severity: lint.Error,
	Since:    "0.1",
	Run:      tell(ContradictionName),
}

// Query reports questions to the volume editor.
var Query = &lint.Rule{
	Name:     QueryName,
	Title:    "an editor asks",
	Checks:   "Queries among the decisions.",
	Why:      "A question keeps a piece from press until it is answered; take the query out then.",
	Before:   "query: is the 5 in the first edition a misprint?",
	After:    "the query is taken out and the answer stands as a decision",
	Severity: lint.Note,
	Since:    "0.1",
	Run:      tell(QueryName),
}

// Stale reports decisions that find nothing to hold for.
var Stale = &lint.Rule{
	Name:     StaleName,
	Title:    "a decision has expired or finds nothing to hold for",
	Checks:   "Stets on findings whose day is over or whose finding is gone, and stets on digits that no longer stand.",
	Why:      "What was let stand for a time, or for a reason that is gone, has to be looked at anew.",
	Before:   "stet on a finding until last month",
	After:    "the entry is taken out or given a new day",
	Severity: lint.Warning,
	Since:    "0.1",
	Run:      tell(StaleName),
}

// Unplaced reports decisions whose note is gone.
var Unplaced = &lint.Rule{
	Name:     UnplacedName,
	Title:    "a decision has lost its note",
	Checks:   "Decisions of which a note cannot be found surely in the score as it stands. They are kept and applied nowhere.",
	Why:      "An editor settled something there; the text has changed under it.",
	Before:   "a decision on G4, where the corrected text has A4",
	After:    "the entry names a note of the text as it stands, or is taken out",
	Severity: lint.Warning,
	Since:    "0.1",
	Run:      tell(UnplacedName),
}

func tell(name string) func(*lint.Pass) {
	return func(p *lint.Pass) {
		for _, r := range p.Remarks {
			if r.Rule == name {
				p.Report(lint.Finding{Notes: r.Notes, Message: r.Message, Fix: r.Fix})
			}
		}
	}
}
