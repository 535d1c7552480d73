package tempo_test

import (
	"fmt"
	"strings"
	"testing"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/4_stages/07_tempo"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// piano reads a one-part score on two staves from the inside of its measures.
// piano reads a one-part score on two staves from the inside of its measures.
func piano(t *testing.T, measures ...string) *score.Score {
	t.Helper()
	var b strings.Builder
	b.WriteString(
		`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">`)
	for i, m := range measures {
		fmt.Fprintf(&b, `<measure number="%d">`, i+1)
		if i == 0 {
			b.WriteString(
				`<attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>`)
		}
		b.WriteString(m + "</measure>")
	}
	b.WriteString("</part></score-partwise>")
	return read(t, b.String())
}

func read(t *testing.T, text string) *score.Score {
	t.Helper()
	doc, err := source.Open("test.musicxml", []byte(text), source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(doc, musicxml.DefaultLimits())
	require.NoError(t, err)
	return s
}

// note writes "C4" of a duration in a voice on a staff, with anything more inside.
func note(pitch string, duration, voice, staff int, more string) string {
	alter := ""
	if len(pitch) == 3 {
		alter = map[byte]string{'#': "<alter>1</alter>", 'b': "<alter>-1</alter>"}[pitch[1]]
	}
	chord := ""
	if strings.HasPrefix(more, "<chord/>") {
		chord, more = "<chord/>", strings.TrimPrefix(more, "<chord/>")
	}
	return fmt.Sprintf(
		`<note>%s<pitch><step>%c</step>%s<octave>%c</octave></pitch><duration>%d</duration><voice>%d</voice><staff>%d</staff>%s</note>`,
		chord, pitch[0], alter, pitch[len(pitch)-1], duration, voice, staff, more)
}

func TestTempoFromMarkWordManifestAndDefault(t *testing.T) {
	p := policies.Default()
	c5 := note("C5", 16, 1, 1, "")
	mark := `<direction><direction-type><metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome></direction-type></direction>`
	word := `<direction><direction-type><words>Allegro</words></direction-type></direction>`

	pace := tempo.Find(tempo.Input{Score: piano(t, mark+c5, c5), Policy: p})
	require.Equal(t, [2]int{120, 120}, [2]int{pace.Low, pace.High}, "a half note of 60 is a quarter of 120")
	require.True(t, pace.Marked)
	require.EqualValues(t, 2_000_000, pace.Micros(score.Whole(4)), "four quarters at 120 take two seconds")

	allegro, _, _ := p.TempoOf("Allegro")
	require.Equal(t, "allegro", allegro)
	pace = tempo.Find(tempo.Input{Score: piano(t, word+c5), Policy: p})
	_, r, _ := p.TempoOf("allegro")
	require.Equal(t, r, policies.Range{Low: pace.Low, High: pace.High})
	require.False(t, pace.Marked)

	pace = tempo.Find(tempo.Input{Score: piano(t, word+mark+c5), Policy: p})
	require.Equal(t, "metronome mark", pace.Source)

	pace = tempo.Find(tempo.Input{Score: piano(t, word+c5), Manifest: policies.Range{Low: 90, High: 100}, Policy: p})
	require.Equal(t, [3]any{90, 100, "manifest"}, [3]any{pace.Low, pace.High, pace.Source})

	pace = tempo.Find(tempo.Input{Score: piano(t, c5), Policy: p})
	require.Equal(t, p.DefaultTempo(), policies.Range{Low: pace.Low, High: pace.High})

	pace = tempo.Find(
		tempo.Input{Score: piano(t, mark+c5, strings.Replace(mark, ">60<", ">30<", 1)+c5, c5), Policy: p})
	require.EqualValues(t, 2_000_000+4_000_000, pace.Micros(score.Whole(8)), "half as fast from the second measure")
}
