// Package all lists every rule there is, in the order of their names.
package all

import (
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/content"
	"fingerproof/rules/lint/decisions"
	"fingerproof/rules/lint/fingers"
	"fingerproof/rules/lint/measure"
	"fingerproof/rules/lint/reach"
	"fingerproof/rules/lint/signs"
	"fingerproof/rules/lint/span"
	"fingerproof/rules/lint/tied"
)

// Rules returns every rule, sorted by name. The slice is the caller's.
func Rules() []*lint.Rule {
	return []*lint.Rule{
		content.Rule,
		decisions.Contradiction,
		decisions.Query,
		decisions.Stale,
		decisions.Unplaced,
		fingers.TwoKeys,
		reach.Rule,
		measure.Rule,
		tied.Rule,
		measure.Notation,
		signs.Language,
		span.Rule,
	}
}

// Rule returns the rule of a name, or nil.
func Rule(name string) *lint.Rule {
	for _, r := range Rules() {
		if r.Name == name {
			return r
		}
	}
	return nil
}
