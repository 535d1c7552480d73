package hands_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml/scoretest"
	"fingerproof/corpus/score"
	"fingerproof/pipeline/4_stages/06_hands"

	"github.com/stretchr/testify/require"
)

// Short names for what many tests write.
var (
	piano = scoretest.Piano
	read  = scoretest.Read
	note  = scoretest.Note
)

func handsOf(t *testing.T, s *score.Score, kind string) string {
	t.Helper()
	h, err := hands.Assign(s, hands.Scoring{Kind: kind})
	require.NoError(t, err)
	out := ""
	for i := range s.Notes {
		out += h.Hand[i].String()
	}
	return out
}

func TestAVoiceThatCrossesOverStaysWithItsHand(t *testing.T) {
	s := piano(t,
		note("C5", 16, 1, 1, "")+backup(16)+note("C3", 4, 5, 2, "")+note("G3", 4, 5, 2, "")+note("E4", 4, 5, 1, "")+note("C3", 4, 5, 2, ""))
	require.Equal(t, "RLLLL", handsOf(t, s, "two hands"))
}

func TestAHandSignRulesToTheNextOneOrTheEndOfTheMeasure(t *testing.T) {
	s := piano(t,
		note("C5", 4, 1, 1, "")+signWords("m.s.", 1)+note("E4", 4, 1, 1, "")+note("F4", 4, 1, 1, "")+signWords("m.d.", 1)+note("G4", 4, 1, 1, ""),
		note("C5", 16, 1, 1, ""))
	require.Equal(t, "RLLRR", handsOf(t, s, "two hands"))
}

func TestASignMeansTheVoiceThatHasCrossedOver(t *testing.T) {
	s := piano(t,
		note("G4", 4, 1, 1, "")+note("A4", 4, 1, 1, "")+note("B4", 4, 1, 1, "")+note("C5", 4, 1, 1, "")+backup(16)+
			note("C3", 4, 5, 2, "")+signWords("m.s.", 1)+note("G5", 4, 5, 1, "")+note("D3", 8, 5, 2, ""))
	require.Equal(t, "RRRRLLL", handsOf(t, s, "two hands"))
}

func TestOneHandPieces(t *testing.T) {
	s := piano(t, note("C5", 16, 1, 1, "")+backup(16)+note("C3", 16, 5, 2, ""))
	require.Equal(t, "LL", handsOf(t, s, "left hand alone"))
	require.Equal(t, "RR", handsOf(t, s, "right hand alone"))
}

func TestSeveralPianosNeedTheirScoringNamed(t *testing.T) {
	two := `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano I</part-name></score-part><score-part id="P2"><part-name>Piano II</part-name></score-part></part-list>` +
		`<part id="P1"><measure number="1"><attributes><divisions>4</divisions><staves>2</staves></attributes>` + note("C5", 16, 1, 1, "") + `</measure></part>` +
		`<part id="P2"><measure number="1"><attributes><divisions>4</divisions><staves>2</staves></attributes>` + note("C3", 16, 5, 2, "") + `</measure></part></score-partwise>`
	s := read(t, two)
	_, err := hands.Assign(s, hands.Scoring{Kind: "two hands"})
	require.ErrorContains(t, err, `P1 "Piano I", P2 "Piano II"`)
	require.ErrorContains(t, err, "hint:")
	h, err := hands.Assign(s, hands.Scoring{Kind: "two pianos"})
	require.NoError(t, err)
	require.NotEqual(t, h.Player[0], h.Player[1])
	_, err = hands.Assign(s, hands.Scoring{Kind: "two hands", Parts: []string{"P9"}})
	require.ErrorContains(t, err, `"P9"`)
}

func TestCueAndHiddenNotesAreLeftAlone(t *testing.T) {
	s := piano(t, note("C5", 8, 1, 1, "")+strings.Replace(note("D5", 4, 1, 1, ""), "<note>", "<note><cue/>", 1)+strings.Replace(note("E5", 4, 1, 1, ""), "<note>", `<note print-object="no">`, 1))
	require.Equal(t, "R", handsOf(t, s, "two hands"))
}

func backup(d int) string { return fmt.Sprintf("<backup><duration>%d</duration></backup>", d) }

func signWords(words string, staff int) string {
	return fmt.Sprintf(`<direction><direction-type><words>%s</words></direction-type><staff>%d</staff></direction>`, words, staff)
}
