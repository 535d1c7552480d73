package suggest_test

import (
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/suggest"

	"github.com/stretchr/testify/require"
)

// Both hands play from one staff where the other is left empty; a written rest keeps its hand silent.
func TestPositionOverrulesTheStaffOnlyWhereTheOtherIsEmpty(t *testing.T) {
	upper := `<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><staff>1</staff></note>` +
		`<note><chord/><pitch><step>E</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><staff>1</staff></note>` +
		`<note><chord/><pitch><step>C</step><octave>6</octave></pitch><duration>4</duration><voice>1</voice><staff>1</staff></note>`
	rest := `<backup><duration>4</duration></backup><note><rest/><duration>4</duration><voice>5</voice><staff>2</staff></note>`
	empty := positionScore(t, upper)
	hands, err := suggest.AssignHands(empty, suggest.Scoring{Kind: "two hands"})
	require.NoError(t, err)
	require.Equal(t, "LLR", hands.Hand[0].String()+hands.Hand[1].String()+hands.Hand[2].String())
	resting := positionScore(t, upper+rest)
	hands, err = suggest.AssignHands(resting, suggest.Scoring{Kind: "two hands"})
	require.NoError(t, err)
	require.Equal(t, "RRR", hands.Hand[0].String()+hands.Hand[1].String()+hands.Hand[2].String())
}

func positionScore(t *testing.T, notes string) *score.Score {
	t.Helper()
	doc, err := source.Open("position.musicxml", []byte(`<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions><staves>2</staves></attributes>`+notes+`</measure></part></score-partwise>`), source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}
