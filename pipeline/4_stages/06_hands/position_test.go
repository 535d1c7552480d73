package hands_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_stages/06_hands"

	"github.com/stretchr/testify/require"
)

// Both hands play from one staff where the other is left empty; a written rest keeps its hand silent.
func TestPositionOverrulesTheStaffOnlyWhereTheOtherIsEmpty(t *testing.T) {
	upper := `<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><staff>1</staff></note>` +
		`<note><chord/><pitch><step>E</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><staff>1</staff></note>` +
		`<note><chord/><pitch><step>C</step><octave>6</octave></pitch><duration>4</duration><voice>1</voice><staff>1</staff></note>`
	rest := `<backup><duration>4</duration></backup><note><rest/><duration>4</duration><voice>5</voice><staff>2</staff></note>`
	empty := positionScore(t, upper)
	assigned, err := hands.Assign(empty, hands.Scoring{Kind: "two hands"})
	require.NoError(t, err)
	require.Equal(t, "LLR", assigned.Hand[0].String()+assigned.Hand[1].String()+assigned.Hand[2].String())
	resting := positionScore(t, upper+rest)
	assigned, err = hands.Assign(resting, hands.Scoring{Kind: "two hands"})
	require.NoError(t, err)
	require.Equal(t, "RRR", assigned.Hand[0].String()+assigned.Hand[1].String()+assigned.Hand[2].String())
}

// positionNote writes a note, or a rest where the pitch is "r", hidden where it is "h".
func positionNote(pitch string, duration, voice, staff int, more string) string {
	what, hidden := "<rest/>", ""
	switch pitch {
	case "r":
	case "h":
		hidden = ` print-object="no"`
	default:
		what = fmt.Sprintf("<pitch><step>%c</step><octave>%c</octave></pitch>", pitch[0], pitch[1])
		if strings.Contains(more, "<chord/>") {
			what, more = "<chord/>"+what, strings.Replace(more, "<chord/>", "", 1)
		}
	}
	return fmt.Sprintf(`<note%s>%s<duration>%d</duration><voice>%d</voice><staff>%d</staff>%s</note>`, hidden, what,
		duration, voice, staff, more)
}

func handsIn(t *testing.T, notes string) (out string) {
	s := positionScore(t, notes)
	assigned, err := hands.Assign(s, hands.Scoring{Kind: "two hands"})
	require.NoError(t, err)
	for i := range s.Notes {
		if assigned.Piano[i] {
			out += assigned.Hand[i].String()
		}
	}
	return out
}

const back = `<backup><duration>4</duration></backup>`

// A voice written on both staves is one hand's where the other hand plays or rests, and both hands' where that is
// left out.
func TestAFigureOverBothStavesIsHandedOver(t *testing.T) {
	n := positionNote
	figure := n("B2", 1, 5, 2, "") + n("G3", 1, 5, 2, "") + n("D4", 1, 5, 1, "") + n("G4", 1, 5, 1, "")
	more := func(next string) string { return `</measure><measure number="2">` + next } // the voice lives below
	below := more(n("B2", 1, 5, 2, "") + n("D3", 1, 5, 2, "") + n("B2", 1, 5, 2, "") + n("D3", 1, 5, 2, ""))
	require.Equal(t, "LLRRLLLL", handsIn(t, figure+below), "nothing above")
	require.Equal(t, "LLRRLLLL", handsIn(t, figure+back+n("h", 4, 1, 1, "")+below), "a hidden rest above")
	require.Equal(t, "LLLLLLLL", handsIn(t, figure+back+n("r", 4, 1, 1, "")+below), "the right hand rests")
	require.Equal(t, "LLLLRLLLL", handsIn(t, figure+back+n("G5", 4, 1, 1, "")+below), "the right hand plays")
}

// Part of a measure is enough, as long as the other staff is empty there.
func TestPositionOverrulesTheStaffInPartOfAMeasure(t *testing.T) {
	n := positionNote
	upper := n("G4", 2, 1, 1, "") + n("C4", 2, 1, 1, "") + n("E4", 2, 1, 1, "<chord/>") + n("C6", 2, 1, 1, "<chord/>")
	require.Equal(t, "RLLRL", handsIn(t, upper+back+n("C3", 2, 5, 2, "")))
	require.Equal(t, "RRRRL", handsIn(t, upper+back+n("C3", 2, 5, 2, "")+n("r", 2, 5, 2, "")), "the left hand rests")
}

// A voice that one hand cannot reach lies with the keys of the other, which plays there; what hangs on one stem, or
// what a rest keeps from the other hand, is left for a redistribution to tell.
func TestAVoiceBeyondTheHandGoesToTheOtherThatPlays(t *testing.T) {
	n := positionNote
	lower := n("D2", 4, 5, 2, "") + back + n("A3", 4, 6, 2, "")
	require.Equal(t, "RLR", handsIn(t, n("D4", 4, 1, 1, "")+back+lower))
	require.Equal(t, "LL", handsIn(t, n("r", 4, 1, 1, "")+back+lower), "the right hand rests")
	require.Equal(t, "RLL", handsIn(t, n("D4", 4, 1, 1, "")+back+n("D2", 4, 5, 2, "")+n("A3", 4, 5, 2, "<chord/>")),
		"one stem")
	require.Equal(t, "RLL", handsIn(t, n("D6", 4, 1, 1, "")+back+lower), "too far for the right hand")
	require.Equal(t, "RLL", handsIn(t, n("D4", 4, 1, 1, "")+back+n("A2", 4, 5, 2, "")+back+n("A3", 4, 6, 2, "")),
		"within one hand")
}

func positionScore(t *testing.T, notes string) *score.Score {
	t.Helper()
	doc, err := source.Open(
		"position.musicxml",
		[]byte(
			`<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions><staves>2</staves></attributes>`+notes+`</measure></part></score-partwise>`),
		source.DefaultLimits(),
	)
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}

// Figures over both staves in engraved scores of the shared folder: the rests of the hand taken for granted are
// hidden there.
func TestFiguresOfEngravedScoresAreHandedOver(t *testing.T) {
	folder := shared.Folder(t, "data/engraved")
	for _, c := range []struct{ file, measure, want string }{
		// broken chords by turns
		{"Viardot,_Pauline_6_Melodies_et_une_havanaise_4_Hai_Luli__lc6639381.mxl", "17", "LLLRRRLLLRRR"},
		// chords by turns
		{"Debussy,_Claude___Mandoline_lc29748596.mxl", "2", "LLLRRRLLLRRRLLLRRR"},
	} {
		path := filepath.Join(folder, c.file)
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		doc, err := source.Open(path, data, source.DefaultLimits())
		require.NoError(t, err)
		s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
		require.NoError(t, err)
		assigned, err := hands.Assign(s, hands.Scoring{Kind: "two hands"})
		require.NoError(t, err)
		got := ""
		for i := range s.Notes {
			if assigned.Piano[i] && s.Measures[s.Notes[i].Measure].Number == c.measure {
				got += assigned.Hand[i].String()
			}
		}
		require.Equal(t, c.want, got, c.file)
	}
}
