package musicxml_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

const headOfOneNote = `<part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes><note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration></note></measure></part></score-partwise>`

// legendIn splices a legend into a text and gives the new text.
func legendIn(t *testing.T, text, line string) string {
	t.Helper()
	doc, err := source.Open("score.musicxml", []byte(text), source.DefaultLimits())
	require.NoError(t, err)
	_, layout, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	edits, err := musicxml.Splice(doc, layout, score.Marking{Fields: []score.Field{{Name: "edition", Value: "1"}}, Legend: line}, musicxml.SpliceOptions{})
	require.NoError(t, err)
	out, err := source.Apply(doc.Text, edits)
	require.NoError(t, err)
	return out
}

// The legend stands once on the first page, in front of the list of parts (the
// place of credits in the MusicXML 4.0 schema), however often it is written.
// A new one takes its place; without one nothing is left of it.
func TestLegendOfAnEdition(t *testing.T) {
	for name, head := range map[string]string{
		"indented": "<score-partwise version=\"4.0\">\n  <work>\n    <work-title>Study</work-title>\n  </work>\n  <part-list>\n    <score-part id=\"P1\"><part-name>Piano</part-name></score-part>\n  </part-list>\n",
		"in a row": `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list>`,
		"title page": "<score-partwise version=\"4.0\">\r\n\t<identification>\r\n\t\t<creator type=\"composer\">Nobody</creator>\r\n\t</identification>\r\n\t<credit page=\"1\">\r\n\t\t<credit-type>title</credit-type>\r\n\t\t<credit-words>Study</credit-words>\r\n\t</credit>\r\n" +
			"\t<part-list>\r\n\t\t<score-part id=\"P1\"><part-name>Piano</part-name></score-part>\r\n\t</part-list>\r\n",
	} {
		plain := legendIn(t, head+headOfOneNote, "")
		once := legendIn(t, head+headOfOneNote, "Fingering: italic – the composer's & his <own>.")
		require.Equal(t, 1, strings.Count(once, "fingering legend"), name)
		require.Contains(t, once, " &amp; his &lt;own&gt;.</credit-words>", name)
		require.Less(t, strings.Index(once, "</identification>"), strings.Index(once, "fingering legend"), name)
		require.Less(t, strings.Index(once, "fingering legend"), strings.Index(once, "<part-list>"), name)
		require.Equal(t, strings.Count(head, "<credit ")+1, strings.Count(once, "<credit "), name)
		require.Equal(t, once, legendIn(t, once, "Fingering: italic – the composer's & his <own>."), name)
		other := legendIn(t, once, "Fingering: bold – the editor's.")
		require.Equal(t, 1, strings.Count(other, "fingering legend"), name)
		require.NotContains(t, other, "italic", name)
		require.Equal(t, plain, legendIn(t, other, ""), name)
	}
}

// Each line of a legend is an element of its own.
func TestLinesOfALegend(t *testing.T) {
	head := `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list>`
	out := legendIn(t, head+headOfOneNote, "Fingering: italic – of the composer;\nbold – of the editor.")
	require.Contains(t, out, `<credit-words halign="center" valign="bottom">Fingering: italic – of the composer;&#xA;</credit-words>`+
		`<credit-words halign="center" valign="bottom">bold – of the editor.</credit-words>`)
}
