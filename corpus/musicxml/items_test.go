package musicxml_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/score"

	"github.com/stretchr/testify/require"
)

const backToStart = "<backup><duration>16</duration></backup>"

func words(text, more string) string {
	return "<direction><direction-type><words>" + text + "</words></direction-type>" + more + "</direction>"
}

func sign(element string) string {
	return "<direction><direction-type>" + element + "</direction-type></direction>"
}

// Durations of tuplets are the file's own: the ratio is kept beside them, also
// where one tuplet stands within another.
func TestTuplets(t *testing.T) {
	ratio := func(actual, normal int) string {
		return fmt.Sprintf("<time-modification><actual-notes>%d</actual-notes><normal-notes>%d</normal-notes></time-modification>", actual, normal)
	}
	s := read(t, piano("<attributes><divisions>15</divisions><time><beats>2</beats><beat-type>4</beat-type></time></attributes>"+
		n("C4", 5, ratio(3, 2))+n("D4", 5, ratio(3, 2))+n("E4", 5, ratio(3, 2))+n("F4", 3, ratio(5, 4))+n("G4", 12)))
	require.Equal(t, "60@0 62@1/3 64@2/3 65@1 67@6/5", onsets(s))
	require.Equal(t, []score.Tuplet{{Actual: 3, Normal: 2}, {Actual: 5, Normal: 4}, {}}, []score.Tuplet{s.Notes[2].Tuplet, s.Notes[3].Tuplet, s.Notes[4].Tuplet})
	require.Empty(t, kinds(s))
}

func TestClefChangesMoveNothing(t *testing.T) {
	clef := "<attributes><clef number=\"2\"><sign>G</sign><line>2</line></clef></attributes>"
	plain := read(t, piano(attributes+n("C4", 8, in(5, 2))+n("G4", 8, in(5, 2))))
	changed := read(t, piano(attributes+n("C4", 8, in(5, 2))+clef+n("G4", 8, in(5, 2))))
	require.Equal(t, onsets(plain), onsets(changed))
	require.Equal(t, homes(plain), homes(changed))
}

// Two voices of one staff keep beams, grace notes and chords of their own.
func TestVoicesDoNotMix(t *testing.T) {
	s := read(t, piano(attributes+
		n("E5", 8, in(1, 1), `<beam number="1">begin</beam>`)+n("F5", 8, in(1, 1), `<beam number="1">end</beam>`)+backToStart+
		grace("B4", in(2, 1))+n("C5", 8, in(2, 1), `<beam number="1">begin</beam>`)+n(".A4", 8, in(2, 1))+n("D5", 8, in(2, 1), `<beam number="1">end</beam>`, `<beam number="2">begin</beam>`)))
	require.Equal(t, "76@0 77@2 71@0 72@0 69@0 74@2", onsets(s))
	require.NotEqual(t, s.Notes[0].BeamGroup, s.Notes[3].BeamGroup)
	require.Equal(t, s.Notes[3].BeamGroup, s.Notes[5].BeamGroup)
	require.Equal(t, 2, s.Notes[5].Beams)
	require.Equal(t, 1, s.Notes[2].Grace)
}

// An after-note that its file calls one, a grace note tied to the note it
// leans on, and one that nothing follows but a rest.
func TestGraceNotesInTheirPlaces(t *testing.T) {
	s := read(t, piano(attributes+grace("C4", "")+n("C4", 8)+
		strings.Replace(grace("D4", ""), "<grace/>", `<grace steal-time-previous="30"/>`, 1)+n("E4", 8)))
	require.Equal(t, []bool{false, false, true, false}, []bool{s.Notes[0].GraceAfter, s.Notes[1].GraceAfter, s.Notes[2].GraceAfter, s.Notes[3].GraceAfter})

	tied := strings.Replace(grace("C4", ""), "</pitch>", `</pitch><tie type="start"/>`, 1)
	s = read(t, piano(attributes+tied+n("C4", 16, `<tie type="stop"/>`)))
	require.Equal(t, 0, s.Notes[1].TiedFrom)
	require.Empty(t, kinds(s))

	s = read(t, piano(attributes+n("C4", 8)+grace("D4", "")+n("r", 8)))
	require.True(t, s.Notes[1].GraceAfter, "a grace note before a rest leans on the note it follows")
}

func TestRollsThroughBothHands(t *testing.T) {
	roll := notations(`<arpeggiate number="3"/>`)
	s := read(t, piano(attributes+n("C5", 16, in(1, 1), roll)+n(".E5", 16, in(1, 1), roll)+backToStart+n("C3", 16, in(5, 2), roll)+
		n(".G3", 16, in(5, 2))))
	for _, i := range []int{0, 1, 2} {
		require.Equal(t, score.Arpeggio{Rolled: true, Number: 3}, s.Notes[i].Arpeggio)
	}
	require.Zero(t, s.Notes[3].Arpeggio)
}

func TestPedalAndWords(t *testing.T) {
	s := read(t, piano(attributes+sign(`<pedal type="start" line="yes"/>`)+n("C4", 8)+sign(`<pedal type="change"/>`)+sign(`<pedal type="sostenuto"/>`)+n("C4", 8)+sign(`<pedal type="discontinue"/>`)))
	var got []string
	for _, d := range s.Directions {
		got = append(got, fmt.Sprintf("%d %s %t %t %t", d.Kind, d.Onset, d.Start, d.Stop, d.Change))
	}
	require.Equal(t, []string{"4 0 true false false", "4 2 false false true", "4 2 true false false", "4 4 false true false"}, got)

	// Words stay as they stand, each for itself, also those that name a tempo.
	s = read(t, piano(attributes+`<direction placement="above"><direction-type><words>Allegro </words><words font-style="italic">ma non troppo</words></direction-type></direction>`+n("C4", 16)))
	require.Len(t, s.Directions, 2)
	require.Equal(t, []string{"Allegro", "ma non troppo"}, []string{s.Directions[0].Text, s.Directions[1].Text})
	require.Equal(t, score.Words, s.Directions[0].Kind)
	require.True(t, s.Directions[0].Above)

	// Signs that some files carry outside words.
	s = read(t, piano(attributes+sign("<other-direction>m.g.</other-direction>")+sign("<other-direction>x</other-direction>")+n("C4", 16)))
	require.Len(t, s.Directions, 1)
	require.Equal(t, score.Left, s.Directions[0].Hand)
}

func TestRepeatsTimesAndForms(t *testing.T) {
	left := func(inside string) string { return `<barline location="left">` + inside + "</barline>" }
	right := func(inside string) string { return `<barline location="right">` + inside + "</barline>" }
	s := read(t, piano(attributes+left(`<repeat direction="forward"/>`)+n("C4", 16),
		left(`<ending number="1" type="start"/>`)+n("C4", 16), n("C4", 16)+right(`<ending number="1" type="stop"/><repeat direction="backward" times="3"/>`),
		sign("<segno/>")+n("C4", 16)+sign("<coda/>")))
	require.True(t, s.Measures[0].Repeat.Forward)
	require.Equal(t, score.Repeat{Backward: true, Times: 3}, s.Measures[2].Repeat)
	require.Equal(t, [][]int{{1}, {1}, nil}, [][]int{s.Measures[1].Endings, s.Measures[2].Endings, s.Measures[3].Endings}, "a volta of two measures")
	require.Equal(t, []score.DirectionKind{score.Segno, score.Coda}, []score.DirectionKind{s.Directions[0].Kind, s.Directions[1].Kind})
}

// Unmeasured music lasts as long as it lasts; small notes of a cadenza are
// played, unlike cues.
func TestCadenzas(t *testing.T) {
	s := read(t, piano(attributes+n("C4", 16), "<attributes><time><senza-misura/></time></attributes>"+n("C4", 40, `<type size="cue">16th</type>`)+n("D4", 30),
		"<attributes><time><beats>4</beats><beat-type>4</beat-type></time></attributes>"+n("C4", 16), `<measure number="X1" implicit="yes">`+n("C4", 4)+"</measure>", n("C4", 16)))
	require.Empty(t, kinds(s))
	require.Equal(t, score.Frac(35, 2), s.Measures[1].Length)
	require.Equal(t, score.Frac(43, 2), s.Measures[2].Start)
	require.False(t, s.Notes[1].Cue)
	require.Equal(t, score.Whole(4), s.Measures[2].Nominal)
}

func TestStavesThatAreLeftAlone(t *testing.T) {
	small := `<attributes><divisions>4</divisions><staves>3</staves><staff-details number="1"><staff-size>60</staff-size></staff-details></attributes>`
	s := read(t, piano(small+n("C5", 16, in(1, 1))+backToStart+n("C4", 16, in(2, 2))+backToStart+n("C3", 16, in(3, 3))))
	require.Equal(t, []bool{true, false, false}, []bool{s.Notes[0].Cue, s.Notes[1].Cue, s.Notes[2].Cue})
	require.True(t, s.Parts[0].HasCueStaves)

	// The ossia ends: what follows on its staff is the music's own.
	ends := `<attributes><staff-details number="1"><staff-type>regular</staff-type></staff-details></attributes>`
	s = read(t, piano(strings.Replace(small, "<staff-size>60</staff-size>", "<staff-type>ossia</staff-type>", 1)+n("C5", 16, in(1, 1)), ends+n("C5", 16, in(1, 1))))
	require.Equal(t, []bool{true, false}, []bool{s.Notes[0].Cue, s.Notes[1].Cue})
}

// Each part counts time in divisions of its own; a measure lasts as long as
// the longest of its parts; a part may end before others or have no music.
func TestSeveralParts(t *testing.T) {
	text := `<score-partwise><part-list>
<score-part id="P1"><part-name>Violin</part-name></score-part>
<part-group type="start" number="1"><group-symbol>brace</group-symbol></part-group>
<score-part id="P2"><part-name>Piano</part-name></score-part><score-part id="P3"><part-name>Piano</part-name></score-part>
<part-group type="stop" number="1"/><score-part id="P4"><part-name>Tacet</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>2</divisions><time><beats>2</beats><beat-type>4</beat-type></time></attributes>` + n("A4", 4) + `</measure></part>
<part id="P2"><measure number="1"><attributes><divisions>8</divisions></attributes>` + n("C5", 8) + n("D5", 8) + `</measure><measure number="2">` + n("E5", 16) + `</measure></part>
<part id="P3"><measure number="1"><attributes><divisions>1</divisions></attributes>` + n("C3", 2) + `</measure></part></score-partwise>`
	s := read(t, text)
	require.Equal(t, "69@0 72@0 74@1 76@0 48@0", onsets(s))
	require.Equal(t, score.Whole(2), s.Measures[1].Start)
	require.Equal(t, []score.Hand{score.NoHand, score.Right, score.Left, score.NoHand}, []score.Hand{s.Parts[0].Hand, s.Parts[1].Hand, s.Parts[2].Hand, s.Parts[3].Hand})
	require.Equal(t, []int{1, 2}, s.PianoParts())
	require.Equal(t, "missing-measure", kinds(s))
	require.Equal(t, []int{0, 1, 1, 1, 2}, []int{s.Notes[0].Part, s.Notes[1].Part, s.Notes[2].Part, s.Notes[3].Part, s.Notes[4].Part}, "notes are counted through all parts")
}

func TestTranspositionOfSingleStaves(t *testing.T) {
	s := read(t, piano(`<attributes><divisions>4</divisions><staves>2</staves><transpose number="2"><chromatic>0</chromatic><octave-change>-1</octave-change></transpose></attributes>`+
		n("C5", 16, in(1, 1))+backToStart+n("C4", 16, in(5, 2))))
	require.Equal(t, []int{72, 48}, []int{s.Notes[0].Midi, s.Notes[1].Midi})
}

func TestPitchesBeyondTheKeys(t *testing.T) {
	s := read(t, piano(attributes+n("A0", 4)+n("C8", 4)+n("G0", 4)+n("D8", 4)))
	require.Equal(t, "pitch pitch", kinds(s))
	require.Equal(t, []int{2, 3}, []int{s.Oddities[0].Note, s.Oddities[1].Note})
	require.Equal(t, "G0 lies beyond the piano's keys", s.Oddities[0].Detail)
	require.Equal(t, 31-12, s.Notes[2].Midi, "kept as written")
}

func TestIdsUsedTwice(t *testing.T) {
	text := piano(attributes + strings.Replace(n("C4", 8), "<note>", `<note id="a">`, 1) + strings.Replace(n("D4", 8), "<note>", `<note id="a">`, 1))
	s := read(t, text)
	require.Equal(t, "duplicate-id", kinds(s))
	require.Equal(t, 1, s.Oddities[0].Note)
}

// Places in words: beats are felt beats, those of a pickup count from its end.
func TestPlacesInWords(t *testing.T) {
	place := func(time string, note int, measures ...string) string {
		measures[0] = strings.Replace(measures[0], "@", "<attributes><divisions>4</divisions>"+time+"</attributes>", 1)
		return read(t, piano(measures...)).Place(note)
	}
	six := "<time><beats>6</beats><beat-type>8</beat-type></time>"
	require.Equal(t, "m. 1, beat 2, staff 1", place(six, 1, "@"+n("C4", 6)+n("C4", 6)))
	require.Equal(t, "m. 1, beat 1, second eighth, staff 1", place(six, 1, "@"+n("C4", 2)+n("C4", 10)))
	require.Equal(t, "m. 1, beat 2, staff 1", place(`<time symbol="cut"><beats>2</beats><beat-type>2</beat-type></time>`, 1, "@"+n("C4", 8)+n("C4", 8)))
	require.Equal(t, "m. 0, beat 4, staff 1", place("<time><beats>4</beats><beat-type>4</beat-type></time>", 0, `<measure number="0" implicit="yes">@`+n("C4", 4)+"</measure>", n("C4", 16)))
}
