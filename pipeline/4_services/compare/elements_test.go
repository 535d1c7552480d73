package compare

import (
	"encoding/xml"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/stretchr/testify/require"
)

// Every element of MusicXML 4.0 (W3C community group report, musicxml.xsd) is
// compared under a kind, holds others together, or is named as not compared;
// none is told twice, and none is made up.
func TestEveryElementOfTheSchemaIsTreated(t *testing.T) {
	folder := shared.Folder(t, filepath.Join("schemas", "musicxml-4.0"))
	data, err := os.ReadFile(filepath.Join(folder, "musicxml.xsd"))
	require.NoError(t, err)
	inSchema := map[string]bool{}
	for d := xml.NewDecoder(strings.NewReader(string(data))); ; {
		token, err := d.Token()
		if err != nil {
			break
		}
		if e, ok := token.(xml.StartElement); ok && e.Name.Local == "element" {
			for _, a := range e.Attr {
				if a.Name.Local == "name" {
					inSchema[a.Value] = true
				}
			}
		}
	}
	require.Greater(t, len(inSchema), 400)
	seen := map[string]bool{}
	for _, treated := range treatments {
		for _, name := range strings.Fields(treated.elements) {
			require.False(t, seen[name], "%s is treated twice", name)
			require.True(t, inSchema[name], "the schema has no %s", name)
			seen[name] = true
		}
	}
	for name := range inSchema {
		require.True(t, seen[name], "%s is not treated", name)
	}
}

// What reports call not compared is neither of a class that is, nor left out.
func TestWhatIsNotComparedIsNamed(t *testing.T) {
	usual := strings.Join(NotCompared(Usual()), "; ")
	require.Contains(t, usual, "layout (page break, system break, beam")
	require.NotContains(t, strings.Join(NotCompared(Classes()), "; "), "layout (")
	require.Contains(t, NotCompared([]Class{Fingering}), "all text")
	for _, treated := range treatments {
		if treated.omitted != "" {
			require.Contains(t, usual, treated.omitted)
		}
	}
	_, inner, _ := strings.Cut(usual, "layout (")
	inner, _, _ = strings.Cut(inner, ")")
	named := strings.Split(inner, ", ")
	for _, k := range kinds {
		require.Equal(t, k.class == Layout, slices.Contains(named, k.words), k.words)
	}
}
