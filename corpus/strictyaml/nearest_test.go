package strictyaml_test

import (
	"testing"

	"fingerproof/corpus/strictyaml"

	"github.com/stretchr/testify/require"
)

// What is shared by many files makes no likeness, and a name is not nearly itself.
func TestTheNearestFile(t *testing.T) {
	files := []string{"after.musicxml", "op7-nocturne.musicxml", "op7-nocturne.mxl", "dead.musicxml"}
	for name, want := range map[string]string{
		"nothere.musicxml": "", "dead.musicxml": "", "op7-nocturn.mxl": "op7-nocturne.mxl", "op7-nocturne.xml": "op7-nocturne.mxl", "aftr.musicxml": "after.musicxml",
	} {
		require.Equal(t, want, strictyaml.NearestFile(name, files), name)
	}
}
