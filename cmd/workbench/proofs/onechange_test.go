package proofs

import (
	"strings"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/stretchr/testify/require"
)

// Whatever one thing changes in a score: diff tells it, or names it as not compared, or it prints nothing; and what prints
// and is easily overlooked is told.
func TestOneChangeIsToldOrNamed(t *testing.T) {
	ask := OneChange{Schemas: shared.Folder(t, "schemas"), Each: 1}
	for format, some := range map[string][]string{
		"MusicXML": {
			`attribute line-end of bracket: "down" -> "up"`, `attribute print-lyric of note: "" -> "no"`, `attribute separator of time: "" -> "horizontal"`,
			`attribute underline of words: "" -> "1"`, `attribute enclosure of rehearsal: "" -> "rectangle"`, "text of breath-mark: comma",
			`attribute line-type of glissando: "wavy" -> "solid"`, "element tied gone", "element accidental-mark gone",
		},
		"MEI": {
			`attribute glyph.name of accid: "" -> "1"`, `attribute pedal.style of staffDef: "" -> "line"`, `attribute stem.visible of note: "" -> "false"`,
			"element anchoredText gone",
		},
	} {
		all, err := ask.of(format)
		require.NoError(t, err)
		require.Greater(t, len(all), 1000, format)
		for _, c := range all {
			require.NotEqual(t, unnamed, c.outcome, "%s: %s: diff says nothing, and no report names it", format, c.what)
		}
		for _, what := range some {
			found := false
			for _, c := range all {
				if strings.HasPrefix(c.what, what) {
					found = true
					require.Equal(t, told, c.outcome, "%s: %s", format, c.what)
				}
			}
			require.True(t, found, "%s: no change %s", format, what)
		}
	}
}
