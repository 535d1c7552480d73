package engrave

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// metronomeMark is a tempo mark as the engraver sets it.
func metronomeMark(t *testing.T, words, note string) *etree.Element {
	t.Helper()
	document := etree.NewDocument()
	require.NoError(t, document.ReadFromString(`<g class="tempo"><text x="1000" y="482" font-size="0px">`+
		`<tspan class="text"><tspan font-size="405px">`+words+`</tspan></tspan><tspan class="text"><tspan font-size="405px"> </tspan></tspan>`+
		`<tspan class="rend"><tspan class="text"><tspan font-size="720px" font-family="Leipzig">`+note+`</tspan></tspan></tspan>`+
		`<tspan class="text"><tspan font-size="405px"> = </tspan></tspan><tspan class="text"><tspan font-size="405px">72</tspan></tspan></text></g>`))
	mark := document.Root()
	dressElements(mark, &Sheet{}, nil)
	return mark
}

// The note of a metronome mark stands clear of the words before it and of the equals sign, whatever fonts a reader has
// (trial 15a-13).
func TestTheNoteOfAMetronomeMarkStandsBetweenTheWords(t *testing.T) {
	for note, flags := range map[string]int{"\uECA3": 0, "\uECA5": 0, "\uECA7": 1, "\uECA9": 2, "\uECA5\uECB7": 0} {
		mark := metronomeMark(t, "Vivace", note)
		texts := mark.SelectElements("text")
		require.Len(t, texts, 2, "words, number")
		require.Equal(t, []string{"Vivace", "= 72"}, []string{texts[0].SelectElement("tspan").Text(), texts[1].SelectElement("tspan").Text()})
		require.Equal(t, "end", texts[0].SelectAttrValue("text-anchor", ""))
		head := mark.FindElement("g[@class='metronome']/ellipse")
		require.Equal(t, note == "\uECA3", head.SelectAttrValue("fill", "") == "none", "a minim is hollow")
		at, _, ok := placeOf(head)
		require.True(t, ok)
		rx := number(head, "rx")
		require.Greater(t, at-rx, number(texts[0], "x")+40, "behind the words")
		require.Less(t, at+rx, number(texts[1], "x")-40, "before the number")
		require.Len(t, mark.FindElements("g[@class='metronome']/path"), 1+flags, "a stem, and flags")
		if dot := mark.SelectElement("ellipse"); len([]rune(note)) == 2 {
			require.Greater(t, number(dot, "cx"), at+rx)
			require.Less(t, number(dot, "cx"), number(texts[1], "x")-40)
		} else {
			require.Nil(t, dot)
		}
	}
	alone := metronomeMark(t, "", "\uECA3")
	require.Len(t, alone.SelectElements("text"), 1)
	require.Empty(t, alone.SelectElement("text").SelectAttrValue("text-anchor", ""))
	plain := metronomeMark(t, "Vivace", "")
	require.Len(t, plain.SelectElements("text"), 1, "no note, nothing taken apart")
}
