package engrave

import (
	"fmt"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// stroke is a picture of keys struck at once with digits above them: for each digit its text, its head's height and its place.
func stroke(t *testing.T, more string, digits ...[4]int) *etree.Element {
	t.Helper()
	text := `<svg><g class="staff"><path d="M0 1000 L9000 1000"/><path d="M0 1720 L9000 1720"/></g>`
	for i, d := range digits {
		text += fmt.Sprintf(`<g class="note" data-id="n%d"><g class="notehead"><use href="#glyph-E0A4" transform="translate(900, %d) scale(0.72, 0.72)"/></g></g>`, i, d[1])
	}
	for i, d := range digits {
		text += fmt.Sprintf(`<g class="fing" data-startid="#n%d"><text x="%d" y="%d" text-anchor="middle" font-size="0px"><tspan><tspan font-size="300px">%d</tspan></tspan></text></g>`, i, d[2], d[3], d[0])
	}
	document := etree.NewDocument()
	require.NoError(t, document.ReadFromString(text+more+`</svg>`))
	return document.Root()
}

// What two voices strike at once has its digits in one column in the order of the keys, though the engraver stacks them voice
// by voice (seen: 1 5 3 from the top over C, G and C).
func TestDigitsOfTwoVoicesStandInTheOrderOfTheirKeys(t *testing.T) {
	d := stroke(t, "", [4]int{1, 1800, 1000, 280}, [4]int{5, 1100, 1000, 900}, [4]int{3, 1400, 904, 590})
	clearDigits(d, nil)
	one, five, three := heightOf(t, d, "n0"), heightOf(t, d, "n1"), heightOf(t, d, "n2")
	require.Greater(t, one, three+200)
	require.Greater(t, three, five+200)
	for _, id := range []string{"n0", "n1", "n2"} {
		require.Equal(t, 1000, int(number(d.FindElement(".//g[@data-startid='#"+id+"']/text"), "x")))
	}
	// What the next stroke has is another column.
	d = stroke(t, "", [4]int{1, 1800, 1000, 280}, [4]int{5, 1100, 1250, 900})
	clearDigits(d, nil)
	require.Equal(t, 280, heightOf(t, d, "n0"))
}

// A fermata stands outside the digits of its chord, and tears no column (seen: 5, the fermata, then 3 and 1).
func TestAFermataTearsNoColumn(t *testing.T) {
	fermata := func(y int) string {
		return fmt.Sprintf(`<g class="fermata"><use href="#glyph-E4C0" transform="translate(850, %d) scale(0.72, 0.72)"/></g>`, y)
	}
	for name, at := range map[string]int{"within": 450, "over a digit": 200, "far outside": -900} {
		d := stroke(t, fermata(at), [4]int{1, 1700, 1000, 880}, [4]int{3, 1400, 1000, 590}, [4]int{5, 1100, 1000, 280})
		clearDigits(d, nil)
		one, three, five := heightOf(t, d, "n0"), heightOf(t, d, "n1"), heightOf(t, d, "n2")
		require.InDelta(t, digitStep, one-three, 25, name)
		require.InDelta(t, digitStep, three-five, 25, name)
		_, y, ok := placeOf(d.FindElement(".//g[@class='fermata']/use"))
		require.True(t, ok)
		require.Less(t, int(y), five-190, "%s: it stands above the topmost digit", name)
		if name == "far outside" {
			require.Equal(t, at, int(y))
		}
	}
}

// A dynamic in which a digit stands goes to its right.
func TestADynamicMakesRoomForADigit(t *testing.T) {
	sf := `<g class="dynam"><use href="#glyph-E536" transform="translate(900, 600) scale(0.72, 0.72)"/></g>`
	wall := `<g class="staff"><path d="M0 0 L9000 0"/><path d="M0 400 L9000 400"/></g>` // no room above
	d := stroke(t, sf+wall, [4]int{3, 1400, 1000, 640})
	clearDigits(d, nil)
	x, _, _ := placeOf(d.FindElement(".//g[@class='dynam']/use"))
	if y := heightOf(t, d, "n0"); y == 640 {
		require.Greater(t, x, 1000.0)
	} else {
		require.Equal(t, 900.0, x, "the digit found room")
	}
}

// Digits over a trill are those of its notes in turn, and look so whether the text has them as digits that follow each other
// or the edition as a row; on a held key they are a change.
func TestDigitsOverATrillAreOneRow(t *testing.T) {
	digits := []DrawnDigit{{Text: "1"}, {Text: "3", Substitution: true}, {Text: "2", Substitution: true}}
	require.Equal(t, "1 3 2", (&NoteMarks{Digits: digits, Ornament: true}).joined()[0].Text)
	require.Equal(t, "1–3–2", (&NoteMarks{Digits: digits}).joined()[0].Text)
	sheet, err := Copy([]byte(`<score-partwise><part-list><score-part id="P1"><part-name>P</part-name></score-part></part-list><part id="P1">
<measure number="1"><attributes><divisions>1</divisions></attributes>
<note><pitch><step>C</step><octave>5</octave></pitch><duration>2</duration><notations><ornaments><trill-mark/></ornaments></notations></note>
<note><pitch><step>C</step><octave>5</octave></pitch><duration>2</duration><notations><ornaments><tremolo>3</tremolo></ornaments></notations></note>
</measure></part></score-partwise>`), CopyOptions{})
	require.NoError(t, err)
	require.True(t, sheet.Notes[0].Ornament)
	require.False(t, sheet.Notes[1].Ornament)
}

// A system's picture reaches below its last digit, and no farther: digits that were moved down are not cut off.
func TestASystemEndsBelowItsLastDigit(t *testing.T) {
	for _, y := range []int{2500, 9000} {
		d := etree.NewElement("svg")
		system := d.CreateElement("g")
		system.CreateAttr("class", "system")
		system.AddChild(stroke(t, "", [4]int{1, 1400, 1000, y}))
		p := &picture{document: etree.NewDocument(), root: etree.NewElement("svg"), inner: d, outer: box{0, 0, 900, 600}, inside: box{0, 0, 9000, 6000}}
		systems, err := p.bySystem("score", 0)
		require.NoError(t, err)
		require.Len(t, systems, 1)
		require.GreaterOrEqual(t, p.inside.bottom, float64(y)+10*pageMargin)
		require.Less(t, p.inside.bottom, float64(y)+10*pageMargin+2*systemMargin)
	}
}
