package engrave

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// betweenStaves is a chord on the lower of two staves, its two digits above it, with a beam of its own over the inner digit.
func betweenStaves(t *testing.T, lower int) *etree.Element {
	t.Helper()
	text := `<svg>`
	for _, y := range []int{1000, lower} {
		text += fmt.Sprintf(`<g class="staff"><path d="M0 %d L9000 %d"/><path d="M0 %d L9000 %d"/></g>`, y, y, y+720, y+720)
	}
	for i, dy := range []int{300, 120} {
		text += fmt.Sprintf(`<g class="note" data-id="n%d"><g class="notehead"><use href="#glyph-E0A4" transform="translate(900, %d)"/></g></g>`, i, lower+dy)
	}
	for i, dy := range []int{-300, -590} {
		text += fmt.Sprintf(`<g class="fing" data-startid="#n%d"><text x="1000" y="%d" text-anchor="middle" font-size="0px"><tspan><tspan font-size="300px">%d</tspan></tspan></text></g>`, i, lower+dy, 2-i)
	}
	text += fmt.Sprintf(`<g class="beam"><polygon points="500,%[1]d 1500,%[1]d 1500,%[2]d 500,%[2]d"/></g></svg>`, lower-420, lower-330)
	document := etree.NewDocument()
	require.NoError(t, document.ReadFromString(text))
	return document.Root()
}

// A stack of the left hand that finds no room between the staves stays whole on its side, and is told to be cramped; it is
// never drawn in part over the right hand's staff (seen: the 1 of a left hand's chord over a note of the right hand).
func TestAStackIsNotMovedThroughTheOtherStaff(t *testing.T) {
	for lower, wanted := range map[int]int{2540: 1, 3400: 0} {
		d := betweenStaves(t, lower)
		_, cramped := clearDigits(d, nil)
		inner, outer := heightOf(t, d, "n0"), heightOf(t, d, "n1")
		require.Greater(t, outer-198, 1720, "below the upper staff")
		require.InDelta(t, 290, inner-outer, 60, "one stack")
		require.Equal(t, wanted > 0, cramped > 0, lower)
	}
}

// A digit that stands nearer to a note of the other staff than to its own is cramped.
func TestADigitNearerToTheOtherHandIsCramped(t *testing.T) {
	for y, wanted := range map[int]int{1800: 0, 2600: 1} {
		d := betweenStaves(t, 3400)
		beam := d.FindElement(".//g[@class='beam']")
		d.RemoveChild(beam)
		note := etree.NewElement("g")
		note.CreateAttr("class", "note")
		head := note.CreateElement("g")
		head.CreateAttr("class", "notehead")
		head.CreateElement("use").CreateAttr("transform", fmt.Sprintf("translate(900, %d)", y))
		d.AddChild(note)
		_, cramped := clearDigits(d, nil)
		if y > 2200 { // it belongs to the upper staff as long as that is nearer
			head.FindElement("use").CreateAttr("transform", "translate(900, 2300)")
			_, cramped = clearDigits(d, nil)
		}
		require.Equal(t, wanted, min(cramped, 1), y)
	}
}

// A drawing with more room between the staves has it, with the same systems.
func TestStavesAreDrawnApart(t *testing.T) {
	worker := newWorker(t, openPress(t))
	two := func(apart int) []box {
		raws, err := worker.draw(context.Background(), order{Score: []byte(twoStaves), Width: 600, All: true, Apart: apart})
		require.NoError(t, err)
		require.Len(t, raws, 1)
		document := etree.NewDocument()
		require.NoError(t, document.ReadFromString(raws[0]))
		walls := stavesOf(document.Root())
		require.Len(t, walls, 2)
		return walls
	}
	gap := func(w []box) float64 { return w[1].top - w[0].bottom }
	wide, usual, widest := two(stavesApart[1]), two(0), two(stavesApart[2])
	require.Greater(t, gap(wide), gap(usual)+1)
	require.Greater(t, gap(widest), gap(wide)+1)
	require.True(t, slices.IsSorted(stavesApart))
	require.Equal(t, usual, two(0), "what was asked before leaves no trace")
}

const twoStaves = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1"><measure number="1">
<attributes><divisions>1</divisions><time><beats>1</beats><beat-type>4</beat-type></time><staves>2</staves>
<clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef></attributes>
<note><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration><voice>1</voice><type>quarter</type><staff>1</staff></note>
<backup><duration>1</duration></backup>
<note><pitch><step>C</step><octave>3</octave></pitch><duration>1</duration><voice>5</voice><type>quarter</type><staff>2</staff></note>
</measure></part></score-partwise>`

// What is offered beside a digit is drawn outside it, wherever the file has it.
func TestADigitStandsAtItsNoteBeforeWhatIsOfferedBesideIt(t *testing.T) {
	offered, digit, change := DrawnDigit{Text: "(1)", Alternative: true}, DrawnDigit{Text: "4"}, DrawnDigit{Text: "3", Substitution: true}
	for _, written := range [][]DrawnDigit{{offered, digit, change}, {digit, change, offered}} {
		require.Equal(t, []DrawnDigit{digit, change, offered}, digitsBeforeAlternatives(written))
	}
	require.Equal(t, []DrawnDigit{offered}, digitsBeforeAlternatives([]DrawnDigit{offered}))
}
