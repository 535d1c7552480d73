package engrave

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A trill close beside the digit of the note before it is lifted over that; one that stands free stays.
func TestATrillStandsClearOfTheDigitBeforeIt(t *testing.T) {
	glyphs := glyphBoxes{"E566": {0, -380, 500, 10}}
	for at, lifted := range map[string]bool{"1130": true, "3000": false} {
		d := drawing(t, `<g class="trill"><use href="#glyph-E566" transform="translate(`+at+`, 900) scale(0.72, 0.72)"/></g>`)
		before := heightOf(t, d, "n1")
		clearDigits(d, glyphs)
		_, y, ok := placeOf(d.FindElement(".//g[@class='trill']/use"))
		require.True(t, ok)
		require.Equal(t, lifted, y < 900, at)
		require.Equal(t, before, heightOf(t, d, "n1"), "the digit stays at its note")
	}
}

// The digits of a sign have a bracket over them, others have none.
func TestTheDigitsOfASignAreBracketed(t *testing.T) {
	d := drawing(t, "")
	sign := d.FindElement(".//g[@data-startid='#n1']")
	bracketRow(sign, false)
	require.Nil(t, sign.SelectElement("path"))
	sign.FindElement(".//tspan/tspan").SetText("2 3")
	bracketRow(sign, false)
	path := sign.SelectElement("path")
	require.NotNil(t, path)
	for k, p := range numbersIn(path, "d") {
		if k%2 == 1 {
			require.Less(t, p, 900-0.5*300, "over the digits")
		}
	}
}

// Tempo words and a metronome mark at one place are drawn as one sign, words first; how it is played stands by itself.
func TestTempoWordsStandBesideTheMetronome(t *testing.T) {
	score := func(words string) string {
		text := string(testScore())
		at := strings.Index(text, "<note")
		return text[:at] + `<direction placement="above"><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>90</per-minute></metronome></direction-type></direction>` +
			`<direction placement="above"><direction-type><words>` + words + `</words></direction-type></direction>` + text[at:]
	}
	for words, joined := range map[string]bool{"Allegro": true, "dolce": false} {
		sheet, err := Copy([]byte(score(words)), CopyOptions{})
		require.NoError(t, err)
		text, err := sheet.MusicXML(0, 0)
		require.NoError(t, err)
		directions := strings.Split(string(text), "<direction ")[1:]
		if !joined {
			require.Len(t, directions, 2)
			continue
		}
		require.Len(t, directions, 1)
		require.Less(t, strings.Index(directions[0], "Allegro"), strings.Index(directions[0], "<metronome"))
	}
}
