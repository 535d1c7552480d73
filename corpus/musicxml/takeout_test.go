package musicxml_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

// Digits go with what held them and nothing else; what an edition says of itself in its head goes too.
func TestDigitsAreTakenOut(t *testing.T) {
	note := func(inside string) string {
		return `<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration>` + inside + `</note>`
	}
	text := `<score-partwise version="4.0"><identification><miscellaneous><miscellaneous-field name="fingerproof-edition">1</miscellaneous-field>` +
		`<miscellaneous-field name="other">x</miscellaneous-field></miscellaneous></identification>` +
		`<part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1"><measure number="1">` +
		`<attributes><divisions>1</divisions></attributes>` +
		note("\n <notations>\n  <technical>\n   <fingering>1</fingering>\n   <fingering>2</fingering>\n  </technical>\n </notations>") +
		note(`<notations><technical><fingering>3</fingering></technical></notations>`) +
		note(`<notations><slur type="start"/><technical><fingering>4</fingering></technical></notations>`) +
		note("") + `</measure></part></score-partwise>`
	doc, err := source.Open("x.musicxml", []byte(text), source.DefaultLimits())
	require.NoError(t, err)
	_, layout, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	out, err := source.Apply(doc.Text, musicxml.TakeOut(doc, layout, [][]bool{{false, true}, {true}, {true}}))
	require.NoError(t, err)
	require.Contains(t, out, "<fingering>1</fingering>\n  </technical>\n </notations></note>")
	require.Contains(t, out, note(""))
	require.Contains(t, out, note(`<notations><slur type="start"/></notations>`))
	require.Contains(t, out, `<miscellaneous-field name="other">x</miscellaneous-field>`)
	require.NotContains(t, out, "fingerproof")
	require.Equal(t, 1, strings.Count(out, "<fingering"))
}

// Rolls that an edition has added go with their words and the layer that was theirs; the composer's stay.
func TestAddedRollsAreTakenOut(t *testing.T) {
	note := func(inside string) string {
		return `<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration>` + inside + `</note>`
	}
	words := func(text string) string {
		return `<direction><direction-type><words>` + text + `</words></direction-type></direction>`
	}
	slur := `<notations><slur type="start"/></notations>`
	roll := `<notations><arpeggiate number="2"/></notations>`
	given := note(roll) + words("arp.") + note(slur) + note("") + words("dolce") + note("")
	with := note(roll) + words("arp.") + words("[arp.]") +
		note(slur+`<notations><level bracket="yes">editorial</level><arpeggiate number="1"/></notations>`) +
		words("(arp.)") + note(`<notations><arpeggiate/><technical><fingering>3</fingering></technical></notations>`) +
		words("dolce") + note("")
	score := func(music string) string {
		return `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list>` +
			`<part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>` + music + `</measure></part></score-partwise>`
	}
	doc, err := source.Open("x.musicxml", []byte(score(with)), source.DefaultLimits())
	require.NoError(t, err)
	_, layout, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	require.Equal(t, 2, layout.AddedRolls())
	out, err := source.Apply(doc.Text, musicxml.TakeOut(doc, layout, [][]bool{nil, nil, {true}}))
	require.NoError(t, err)
	require.Equal(t, score(given), out)
}
