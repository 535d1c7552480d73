package engrave

import (
	"context"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Notes struck together stand over one another, also where a file does not say that three in the time of two are a
// tuplet (MusicXML 4.0: time-modification says how long they last, tuplet how that looks).
func TestNotesOfTupletsWithoutAMarkStandInTheirPlaces(t *testing.T) {
	note := func(step, octave, voice, kind, more string) string {
		return `<note><pitch><step>` + step + `</step><octave>` + octave + `</octave></pitch><duration>` +
			map[string]string{"quarter": "6", "eighth": "2", "third": "4"}[kind] + `</duration><voice>` + voice +
			`</voice><type>` + strings.Replace(kind, "third", "quarter", 1) + `</type>` + more +
			`<staff>` + voice + `</staff></note>`
	}
	three := `<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>`
	text := `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part></part-list>` +
		`<part id="P1"><measure number="1"><attributes><divisions>6</divisions><time><beats>3</beats>` +
		`<beat-type>4</beat-type></time><staves>2</staves></attributes>` +
		note("C", "5", "1", "quarter", "") + note("D", "5", "1", "quarter", "") + note("E", "5", "1", "quarter", "") +
		`<backup><duration>18</duration></backup>` +
		note("C", "4", "2", "third", three) + note("D", "4", "2", "eighth", three) +
		strings.Repeat(note("E", "4", "2", "eighth", three), 3) + note("F", "4", "2", "quarter", "") +
		`</measure></part></score-partwise>`
	sheet, err := Copy([]byte(text), CopyOptions{})
	require.NoError(t, err)
	written, err := sheet.MusicXML(0, 0)
	require.NoError(t, err)
	require.Equal(t, 2, strings.Count(string(written), `<tuplet type="start"`))
	picture, err := newWorker(t, openPress(t)).Excerpt(context.Background(), sheet, 0, 0, ExcerptOptions{})
	require.NoError(t, err)
	at := func(id string) int {
		m := regexp.MustCompile(`(?s)data-id="` + id + `".*?translate\((\d+)`).FindStringSubmatch(picture.SVG)
		require.NotNil(t, m, id)
		x, err := strconv.Atoi(m[1])
		require.NoError(t, err)
		return x
	}
	require.Equal(t, at("n0"), at("n3"))
	require.InDelta(t, at("n1"), at("n5"), 10)
	require.InDelta(t, at("n2"), at("n8"), 10)
	marked := strings.Replace(text, `<staff>2</staff>`, `<staff>2</staff><notations><tuplet type="start"/></notations>`, 1)
	sheet, err = Copy([]byte(marked), CopyOptions{})
	require.NoError(t, err)
	written, err = sheet.MusicXML(0, 0)
	require.NoError(t, err)
	require.Equal(t, 1, strings.Count(string(written), `<tuplet type="start"`), "what a file says is left as it is")
}
