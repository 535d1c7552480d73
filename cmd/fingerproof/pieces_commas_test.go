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

		"songs":   {"Songs,_Op._7_2"},
		"song,p9": {"Songs,_Op._7_2", "op9"},
	} {
		c := &corpus.Collection{Pieces: []corpus.Piece{{ID: "Songs,_Op._7_2"}, {ID: "op7"}, {ID: "op9"}}}
		require.NoError(t, keepOnly(c, []string{wanted}), wanted)
		require.Equal(t, want, idsOf(c), wanted)
	}
	c := &corpus.Collection{Pieces: []corpus.Piece{{ID: "op7"}, {ID: "op9"}, {ID: "op99"}}}
	require.ErrorContains(t, keepOnly(c, []string{"op"}), "\"op\" is in the ids of 3 pieces\nhint: name one of them: op7, op9")
	require.ErrorContains(t, keepOnly(c, []string{"op8"}), "there is no piece")
	require.NoError(t, keepOnly(c, []string{"op9"}))
	require.Equal(t, []string{"op9"}, idsOf(c), "a whole id comes before a part")
}
