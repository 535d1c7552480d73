package stet

import (
	"slices"

	"fingerproof/pipeline/3_records/decision"
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"
)

// stillThere says of a stet whose finding is not found any more that the digits which it speaks of stand as they did: whether a
// finger is called unlikely hangs on what stands around it, and to take the suggestions there takes nothing back of what was judged.
// It is not so where the rule speaks of the text alone, where a digit of it was changed or the chord is rolled, or where another
// digit of the hand was amended behind it in its measure.
func stillThere(in Input, stet *decide.FindingStet) bool {
	rule := all.Rule(stet.Decision.Rule)
	if rule == nil || rule.Text || slices.Contains(all.OfDecisions(), rule) || len(stet.Notes) < max(len(stet.Decision.Notes), 1) || len(in.Decided.Deciding) == 0 {
		return false
	}
	for _, n := range stet.Notes {
		if in.Decided.Rolling[n].Rolls() || !standsAsJudged(in, stet.Decision, n) {
			return false
		}
		for m := range in.Score.Notes {
			if d := in.Decided.Deciding[m]; d != nil && d.Verb == decision.Amend && !before(d, stet.Decision) &&
				in.Score.Notes[m].Measure == in.Score.Notes[n].Measure && in.Playing.Hand(m) == in.Playing.Hand(n) {
				return false
			}
		}
	}
	return true
}

// standsAsJudged says that the digit of a note is the one on which a stet was given: it stands in the text and nobody changed it, or
// it was decided before, or taken as it was suggested at the same sitting.
func standsAsJudged(in Input, stet *decision.Decision, n int) bool {
	d := in.Decided.Deciding[n]
	switch {
	case d == nil || d.Verb == decision.Stet:
		return len(in.Score.Notes[n].Indications) > 0
	case before(d, stet):
		return true
	}
	return d.Verb == decision.Take && d.On == decision.Notes && d.When == stet.When
}

// before says that a decision was made before another: on an earlier day, or above it in one file.
func before(d, other *decision.Decision) bool {
	return d.When < other.When || d.When == other.When && d.File == other.File && d.Line < other.Line
}

// amongOthers is the finding that was let stand, in words that are true of it now.
func amongOthers(in Input, stet *decide.FindingStet) lint.Finding {
	rule, n := all.Rule(stet.Decision.Rule), &in.Score.Notes[stet.Notes[0]]
	gone := ", not found as digits, hand and policy stand now"
	if slices.ContainsFunc(stet.Notes, func(n int) bool { return sameDay(in.Decided.Deciding[n], stet.Decision) }) {
		gone = ", not found with the digits that were decided there that day"
	}
	return lint.Finding{
		Rule: rule.Name, Severity: lint.Note, Message: rule.Title + gone,
		Notes: stet.Notes, Measure: n.Measure, Onset: n.Onset, Hand: in.Playing.Hand(stet.Notes[0]), Line: n.Line, Column: n.Column,
	}
}
