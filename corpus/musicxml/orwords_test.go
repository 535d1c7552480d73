package musicxml_test

import (
	"testing"

	"fingerproof/corpus/musicxml/scoretest"

	"github.com/stretchr/testify/require"
)

// A word of choice under notes with two digits makes the second ones alternatives, from its place to the end of its
// measure and on its staff; other words, and digits before it, on the other staff or in another measure, say what they said.
func TestAWordOfChoiceMakesAlternatives(t *testing.T) {
	two := func(pitch string, staff int) string {
		return scoretest.Note(pitch, 4, staff, staff, `<notations><technical><fingering>1</fingering>`+
			`<fingering substitution="yes">2</fingering></technical></notations>`)
	}
	words := func(text string) string {
		return `<direction placement="below"><direction-type><words>` + text + `</words></direction-type><staff>1</staff></direction>`
	}
	for _, word := range []string{"ou", "(oder)", "or", "Ossia:"} {
		s := scoretest.Piano(t,
			two("C4", 1)+words(word)+two("D4", 1)+two("E4", 1)+two("F4", 1)+`<backup><duration>16</duration></backup>`+two("C3", 2)+two("D3", 2),
			two("G4", 1)+words("dolce"))
		var alternates []string
		for i := range s.Notes {
			require.Len(t, s.Notes[i].Indications, 2)
			second := &s.Notes[i].Indications[1]
			require.NotEqual(t, second.Alternate, second.Substitution)
			if second.Alternate {
				alternates = append(alternates, s.Notes[i].Pitch.String())
			}
			require.False(t, s.Notes[i].Indications[0].Alternate)
		}
		require.Equal(t, []string{"D4", "E4", "F4"}, alternates, word)
	}
}
