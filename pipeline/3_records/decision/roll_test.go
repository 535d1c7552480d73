package decision_test

import (
	"testing"

	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

func TestFaultsOfRollsAreNamed(t *testing.T) {
	for entry, want := range map[string]string{
		"amend: roll, notes: [m. 1: 0 C3+E4]":                                                                 "a roll cannot be amended",
		"take: roll, notes: [m. 1: 0 C3]":                                                                     "a roll has one note",
		"take: roll, notes: [m. 1: 0 C3=5+E4=1]":                                                              "a roll gives no finger",
		"take: roll, notes: ['m. 1': '0 C3, 1 E4']":                                                           "stand at one moment",
		"take: roll, direction: left, notes: [m. 1: 0 C3+E4]":                                                 "direction",
		"stet: roll, direction: up, notes: [m. 1: 0 C3+E4]":                                                   "direction says nothing in a stet on roll",
		"take: notes, direction: up, notes: [m. 1: 0 C3=5]":                                                   "direction says nothing in a take on notes",
		"take: roll, to: L, notes: [m. 1: 0 C3+E4]":                                                           "to says nothing in a take on roll",
		"take: roll, notes: [{measure: 1, onset: 0, pitch: C3, grace: 1}, {measure: 1, onset: 0, pitch: C4}]": "a grace note",
	} {
		_, _, err := decision.Parse("decisions/p.AB.yaml", []byte("piece: p\nby: AB\ndecisions:\n  - {when: 2026-01-05, "+entry+"}\n"))
		require.ErrorContains(t, err, want, entry)
	}
}
