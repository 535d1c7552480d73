package main

import (
	"testing"

	"fingerproof/pipeline/6_checks/check"

	"github.com/stretchr/testify/require"
)

// One corrected note whose digit is printed now, and digits of which only the state is another: three things, and not the sum
// of all lines.
func TestChangesAreCountedByWhatAReaderSees(t *testing.T) {
	changes := []check.Change{
		{Kind: check.Text, N: 4}, {Kind: check.Fingers, N: 4}, {Kind: check.Printed, N: 4, Old: "no", New: "yes"}, {Kind: check.Whose, N: 4, Old: check.Undecided, New: "editor:AB"},
		{Kind: check.Whose, N: 5, Old: check.Undecided, New: "editor:AB"},
		{Kind: check.Whose, N: 6, Old: check.Undecided, New: "editor:AB"},
		{Kind: check.Fingers, N: 7}, {Kind: check.Fingers, N: 8}, {Kind: check.Fingers, N: 9}, {Kind: check.Printed, N: 9, Old: "yes", New: check.NotInPrint}, {Kind: check.Printed, N: 10, Old: "yes", New: check.NotInPrint}, {Kind: check.Whose, N: 7, Old: check.Undecided, New: "editor:AB"},
		{Kind: check.FindingGone, N: -1}, {Kind: check.NoteMissing, N: -1}, {Kind: check.NoteMissing, N: -1},
	}
	require.Equal(t, "3 notes changed, 2 notes without their digit in print, 1 note with a digit in print that had none, 1 note with another digit in print, 1 note with another finger that does not print, "+
		"2 notes newly decided as they were, 1 finding come, gone or let stand", countedChanges(changes, map[int]bool{4: true, 5: true, 8: true}))
}
