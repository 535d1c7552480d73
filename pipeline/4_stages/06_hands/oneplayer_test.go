package hands_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_stages/06_hands"

	"github.com/stretchr/testify/require"
)

// severalParts assigns the hands of a score of parts, each a name, a number of staves and its notes.
func severalParts(t *testing.T, kind string, parts ...[3]string) (string, error) {
	t.Helper()
	list, body := "", ""
	for i, p := range parts {
		list += fmt.Sprintf(
			`<score-part id="P%d"><part-name>%s</part-name><score-instrument id="I%d"><instrument-name>Piano</instrument-name><instrument-sound>keyboard.piano</instrument-sound></score-instrument></score-part>`,
			i+1, p[0], i+1)
		body += fmt.Sprintf(
			`<part id="P%d"><measure number="1"><attributes><divisions>1</divisions><staves>%s</staves></attributes>%s</measure></part>`,
			i+1, p[1], p[2])
	}
	doc, err := source.Open(
		"parts.musicxml",
		[]byte(
			`<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><part-list>`+list+`</part-list>`+body+`</score-partwise>`),
		source.DefaultLimits(),
	)
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	assigned, err := hands.Assign(s, hands.Scoring{Kind: kind})
	if err != nil {
		return "", err
	}
	out := ""
	for i := range s.Notes {
		require.Equal(t, assigned.Player[0], assigned.Player[i])
		out += assigned.Hand[i].String()
	}
	return out, nil
}

// Parts of one name are one player's where two hands can play them; else, or where the names differ, the scoring
// has to be named.
func TestPartsOfOneNameAreOnePlayers(t *testing.T) {
	n := positionNote
	both := n("E5", 4, 1, 1, "") + back + n("C3", 4, 5, 2, "")
	third := n("G4", 4, 1, 1, "")
	got, err := severalParts(t, "two hands", [3]string{"Piano", "2", both}, [3]string{"Piano", "1", third})
	require.NoError(t, err)
	require.Equal(t, "RLR", got, "a third staff near the right hand")
	got, err = severalParts(t, "two hands",
		[3]string{"Piano", "2", n("E6", 4, 1, 1, "") + back + n("C3", 4, 5, 2, "")},
		[3]string{"piano ", "1", n("G3", 4, 1, 1, "")})
	require.NoError(t, err)
	require.Equal(t, "RLL", got, "a third staff near the left hand")
	got, err = severalParts(t, "two hands", [3]string{"Piano", "1", third},
		[3]string{"Piano", "1", n("C3", 4, 1, 1, "")})
	require.NoError(t, err)
	require.Equal(t, "RL", got, "a staff for each hand")
	_, err = severalParts(t, "two hands", [3]string{"Piano", "2", both}, [3]string{"Celesta", "1", third})
	require.ErrorContains(t, err, "several piano parts", "another name")
	full := strings.Repeat(n("C6", 1, 1, 1, "")+n("E6", 1, 1, 1, "<chord/>"),
		4) + back + strings.Repeat(n("C2", 1, 5, 2, "")+n("G2", 1, 5, 2, "<chord/>"), 4)
	inner := strings.Repeat(n("C4", 1, 1, 1, "")+n("E4", 1, 1, 1, "<chord/>"),
		4) + back + strings.Repeat(n("C3", 1, 5, 2, ""), 4)
	_, err = severalParts(t, "two hands", [3]string{"Piano", "2", full}, [3]string{"Piano", "2", inner})
	require.ErrorContains(t, err, "several piano parts", "too much for two hands")
}
