package score_test

import (
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

// MusicXML 4.0, arpeggiate: "this note is part of an arpeggiated chord"; programs write the sign at one note of a chord
// or at each. A bracket (non-arpeggiate) keeps its note out of it.
func TestASignOnAnyNoteRollsTheChordOnItsStem(t *testing.T) {
	note := scoretest.Note
	sign := func(s string) string { return "<notations>" + s + "</notations>" }
	s := scoretest.Piano(t,
		note("C4", 4, 1, 1, "")+note("G4", 4, 1, 1, "<chord/>")+note("E5", 4, 1, 1, "<chord/>"+sign(`<arpeggiate direction="down"/>`))+
			note("C4", 4, 1, 1, sign("<non-arpeggiate type=\"bottom\"/>"))+note("E5", 4, 1, 1, "<chord/>"+sign("<arpeggiate/>"))+
			note("C4", 4, 1, 1, "")+note("E5", 4, 1, 1, "<chord/>"))
	var got []score.Rolling
	for n := range s.Notes {
		got = append(got, s.Rolling(n))
	}
	require.Equal(t, []score.Rolling{
		score.RolledDown, score.RolledDown, score.RolledDown, score.Struck, score.RolledUp, score.Struck, score.Struck,
	}, got)
}

// What an edition offers rolls nothing, what it decided does; other programs drop the layer of the sign and keep the word.
func TestSignsThatAnEditionAddedAreToldByTheirWord(t *testing.T) {
	note := scoretest.Note
	sign := "<notations><arpeggiate/></notations>"
	words := func(w string) string {
		return `<direction placement="below"><direction-type><words>` + w + `</words></direction-type><staff>2</staff></direction>`
	}
	chord := func() string { return note("C3", 4, 5, 2, sign) + note("E4", 4, 5, 2, "<chord/>"+sign) }
	composers := "<backup><duration>12</duration></backup>" + note("G4", 4, 6, 2, sign)
	s := scoretest.Piano(t, words("(arp.)")+chord()+words("[arp.]")+chord()+words("arp.")+chord()+composers)
	require.Equal(t, score.Parentheses, s.Notes[0].Arpeggio.Enclosure)
	require.Equal(t, score.Brackets, s.Notes[3].Arpeggio.Enclosure)
	require.Equal(t, score.NoEnclosure, s.Notes[5].Arpeggio.Enclosure, "a composer's word")
	require.False(t, s.Rolling(1).Rolls(), "offered")
	require.True(t, s.Rolling(2).Rolls())
	require.True(t, s.Rolling(4).Rolls())
	require.Equal(t, score.NoEnclosure, s.Notes[6].Arpeggio.Enclosure, "the composer's sign at the same moment")
	require.True(t, s.Rolling(6).Rolls())
	layer := scoretest.Piano(t, note("C3", 4, 5, 2, `<notations><level parentheses="yes">editorial</level><arpeggiate/></notations>`)+
		note("E4", 4, 5, 2, `<chord/><notations><level bracket="yes">editorial</level><arpeggiate/></notations>`))
	require.Equal(t, score.Parentheses, layer.Notes[0].Arpeggio.Enclosure)
	require.Equal(t, score.Brackets, layer.Notes[1].Arpeggio.Enclosure)
}
