package lint

import (
	"cmp"
	"slices"
)

// Sort brings findings into their one order: measure, onset, rule, first
// note, message. The more severe comes first at the same place.
func Sort(f []Finding) {
	slices.SortStableFunc(f, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(a.Measure, b.Measure),
			a.Onset.Cmp(b.Onset),
			-cmp.Compare(a.Severity, b.Severity),
			cmp.Compare(a.Rule, b.Rule),
			cmp.Compare(firstNote(a), firstNote(b)),
			cmp.Compare(a.Message, b.Message),
		)
	})
}

func firstNote(f Finding) int {
	if len(f.Notes) == 0 {
		return -1
	}
	return f.Notes[0]
}
