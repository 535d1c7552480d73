package main

import (
	"testing"

	"fingerproof/corpus"

	"github.com/stretchr/testify/require"
)

// Ids made of file names hold commas; a pattern of such a name is one word, several ids are several.
func TestAPatternMayHoldTheCommaOfAnId(t *testing.T) {
	for wanted, want := range map[string][]string{
		"Songs,_Op*":     {"Songs,_Op._7_2"},
		"op7,op9":        {"op7", "op9"},
		"op7,Songs*":     {"Songs,_Op._7_2", "op7"},
		"Songs,_Op._7_*": {"Songs,_Op._7_2"},

		"op9,Songs,_Op._7_2":     {"Songs,_Op._7_2", "op9"},
		"Songs,_Op._7_2, op7":    {"Songs,_Op._7_2", "op7"},
		"op7,Songs,_Op._7_*,op9": {"Songs,_Op._7_2", "op7", "op9"},
	} {
		c := &corpus.Collection{Pieces: []corpus.Piece{{ID: "Songs,_Op._7_2"}, {ID: "op7"}, {ID: "op9"}}}
		require.NoError(t, keepOnly(c, []string{wanted}), wanted)
		require.Equal(t, want, idsOf(c), wanted)
	}
}
