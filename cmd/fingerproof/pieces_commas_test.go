package main

import (
	"testing"

	"fingerproof/corpus"

	"github.com/stretchr/testify/require"
)

// Ids made of file names hold commas; a pattern of such a name is one word, several ids are several.
func TestAPatternMayHoldTheCommaOfAnId(t *testing.T) {
	for wanted, want := range map[string][]string{
		"Hensel,_Fanny*":   {"Hensel,_Fanny_Bitte"},
		"op7,op9":          {"op7", "op9"},
		"op7,Hensel*":      {"Hensel,_Fanny_Bitte", "op7"},
		"Hensel,_Fanny_B*": {"Hensel,_Fanny_Bitte"},
	} {
		c := &corpus.Collection{Pieces: []corpus.Piece{{ID: "Hensel,_Fanny_Bitte"}, {ID: "op7"}, {ID: "op9"}}}
		require.NoError(t, keepOnly(c, []string{wanted}), wanted)
		require.Equal(t, want, idsOf(c), wanted)
	}
}
