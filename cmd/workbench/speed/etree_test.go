package speed

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/source"
)

// A score whose measures are written three times has three times the measures and the notes, and its measures are
// numbered on.
func TestMeasuresAreWrittenAgain(t *testing.T) {
	const note = `<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><type>whole</type></note>`
	from, to := filepath.Join(t.TempDir(), "two.musicxml"), filepath.Join(t.TempDir(), "six.musicxml")
	require.NoError(t, os.WriteFile(from, []byte(`<?xml version="1.0"?><score-partwise version="4.0"><part-list><score-part id="P1">`+
		`<part-name>Piano</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions>`+
		`<time><beats>4</beats><beat-type>4</beat-type></time></attributes>`+note+`</measure><measure number="2">`+note+
		`</measure></part></score-partwise>`), 0o644))
	require.NoError(t, writeRepeated(from, to, 3))
	text, err := os.ReadFile(to)
	require.NoError(t, err)
	opened, err := source.Open(to, text, source.DefaultLimits())
	require.NoError(t, err)
	s, _, err := musicxml.Read(opened, musicxml.DefaultLimits())
	require.NoError(t, err)
	require.Len(t, s.Measures, 6)
	require.Len(t, s.Notes, 6)
	require.Equal(t, "6", s.Measures[5].Number)
}
