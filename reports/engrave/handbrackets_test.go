package engrave

import (
	"context"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// brackets is a drawing of one staff over another with a bracket as the engraver draws it, above the upper staff.
func brackets(t *testing.T, colour, more string) *etree.Element {
	t.Helper()
	document := etree.NewDocument()
	require.NoError(t, document.ReadFromString(`<svg>`+
		`<g class="staff"><path d="M0 1000 L9000 1000"/><path d="M0 1720 L9000 1720"/></g>`+
		`<g class="staff"><path d="M0 3400 L9000 3400"/><path d="M0 4120 L9000 4120"/></g>`+
		`<g class="bracketSpan" color="`+colour+`"><polyline points="2000,800 2000,620 2090,620"/><polyline points="6000,800 6000,620 5910,620"/>`+
		`<path d="M2000 620 L6000 620" stroke-dasharray="72 54"/></g>`+more+`</svg>`))
	return document.Root()
}

// A bracket that stands below its staff is drawn there, behind its hand sign, and each ends before the note that follows.
func TestBracketsAreDrawnOnTheSideOfTheirHand(t *testing.T) {
	line := func(d *etree.Element) []float64 {
		return numbersIn(d.FindElement(".//g[@class='bracketSpan']/path"), "d")
	}
	signed := `<g class="dir"><text x="2000" y="2500" font-size="0px"><tspan><tspan font-size="400px">(m.s.)</tspan></tspan></text></g>`
	above := brackets(t, "", "")
	clearDigits(above, nil)
	require.Equal(t, []float64{2000, 620, 6000 - bracketShort, 620}, line(above))

	below := brackets(t, belowMark, "")
	clearDigits(below, nil)
	p := line(below)
	require.Greater(t, p[1], 1720.0, "below its staff")
	require.Less(t, p[1], 3400.0, "and above the next one")
	require.Len(t, below.FindElements(".//polyline"), 2)
	require.Empty(t, below.FindElement(".//g[@class='bracketSpan']").SelectAttrValue("color", ""), "the mark is no colour of the picture")

	behind := brackets(t, belowMark, signed)
	clearDigits(behind, nil)
	p = line(behind)
	require.Greater(t, p[0], 2600.0, "it begins behind the sign")
	require.InDelta(t, 2400, p[1], 150, "at its height")
	require.Len(t, behind.FindElements(".//polyline"), 1, "the sign is its beginning")

	crowded := brackets(t, belowMark, signed+`<g class="note" data-id="n0"><g class="notehead"><use href="#glyph-E0A4" transform="translate(4000, 1700) scale(0.72, 0.72)"/></g></g>`+
		`<g class="fing" data-startid="#n0"><text x="4100" y="2450" text-anchor="middle" font-size="0px"><tspan><tspan font-size="300px">3</tspan></tspan></text></g>`)
	clearDigits(crowded, nil)
	p = line(crowded)
	require.Equal(t, 2000.0, p[0], "no line goes through a digit")
	for _, b := range bracketsOf(crowded) {
		require.False(t, b.meets(box{4034, 2252, 4166, 2450}))
	}
}

// Brackets of both hands, drawn by the engraver from MusicXML.
func TestTheEngraverTellsTheSidesOfBrackets(t *testing.T) {
	press := openPress(t)
	for _, side := range []string{"above", "below"} {
		bracket := func(kind string) string {
			return fmt.Sprintf(`<direction placement="%s"><direction-type><bracket type="%s" number="1" line-end="up" line-type="dashed"/></direction-type><staff>1</staff></direction>`, side, kind)
		}
		second := `<voice>5</voice><type>half</type><staff>2</staff></note>`
		text := strings.Replace(tenths, `<note>`, bracket("start")+`<note>`, 1)
		text = strings.Replace(text, `<backup>`, bracket("stop")+`<backup>`, 1)
		require.Contains(t, text, second)
		sheet, err := Copy([]byte(text), CopyOptions{})
		require.NoError(t, err)
		picture, err := newWorker(t, press).Excerpt(context.Background(), sheet, 0, 0, ExcerptOptions{Glyphs: &Glyphs{}})
		require.NoError(t, err)
		require.NotContains(t, picture.SVG, belowMark)
		document := etree.NewDocument()
		require.NoError(t, document.ReadFromString(picture.SVG))
		staves := stavesOf(document.Root())
		require.Len(t, staves, 2)
		at := regexp.MustCompile(`d="M\d+ (\d+) L\d+ \d+"[^>]*stroke-dasharray`).FindStringSubmatch(picture.SVG)
		require.NotNil(t, at, picture.SVG)
		y := 0.0
		_, err = fmt.Sscan(at[1], &y)
		require.NoError(t, err)
		if side == "above" {
			require.Less(t, y, staves[0].top)
		} else {
			require.Greater(t, y, staves[0].bottom)
			require.Less(t, y, staves[1].top)
		}
	}
}
