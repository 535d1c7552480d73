// Package scoretest writes small scores for tests and reads them.
package scoretest

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
)

const head = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part>` +
	`</part-list><part id="P1">`

// Read reads a whole score.
func Read(t *testing.T, text string) *score.Score {
	t.Helper()
	doc, err := source.Open("test.musicxml", []byte(text), source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}

// Piano reads a one-part score on two staves from the inside of its measures, four divisions to the quarter, in 4/4.
func Piano(t *testing.T, measures ...string) *score.Score {
	t.Helper()
	var b strings.Builder
	b.WriteString(head)
	for i, m := range measures {
		fmt.Fprintf(&b, `<measure number="%d">`, i+1)
		if i == 0 {
			b.WriteString(`<attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time>` +
				`<staves>2</staves></attributes>`)
		}
		b.WriteString(m + "</measure>")
	}
	b.WriteString("</part></score-partwise>")
	return Read(t, b.String())
}

// Note writes "C4" or "F#4" of a duration in a voice on a staff, with anything more inside. What is more may begin
// with <chord/>.
func Note(pitch string, duration, voice, staff int, more string) string {
	alter := ""
	if len(pitch) == 3 {
		alter = map[byte]string{'#': "<alter>1</alter>", 'b': "<alter>-1</alter>"}[pitch[1]]
	}
	chord := ""
	if strings.HasPrefix(more, "<chord/>") {
		chord, more = "<chord/>", strings.TrimPrefix(more, "<chord/>")
	}
	return fmt.Sprintf(`<note>%s<pitch><step>%c</step>%s<octave>%c</octave></pitch><duration>%d</duration>`+
		`<voice>%d</voice><staff>%d</staff>%s</note>`,
		chord, pitch[0], alter, pitch[len(pitch)-1], duration, voice, staff, more)
}

// Scale is three measures of quarters for Letters: up from C4, on to C5, and up from C4 again.
const Scale = head + `
<measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time>` +
	`</attributes>C4 D4 E4 F4</measure>
<measure number="2">G4 A4 B4 C5</measure><measure number="3">C4 D4 E4 F4</measure></part></score-partwise>`

// Letters reads a score in which C4 to B5 stand for notes of one division in voice 1.
func Letters(t *testing.T, text string) *score.Score {
	t.Helper()
	for _, step := range "CDEFGAB" {
		for _, octave := range "45" {
			name := string(step) + string(octave)
			text = strings.ReplaceAll(text, name, `<note><pitch><step>`+string(step)+`</step><octave>`+string(octave)+
				`</octave></pitch><duration>1</duration><voice>1</voice></note>`)
		}
	}
	return Read(t, text)
}
