package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/shared"
)

// A sheet says that an answer goes to a return; keyed in with other fingers than suggested it does not, where the text has one of
// its own beside it: enter says so at once, and says nothing of measures that the editor left out himself. In this score of
// shared/data/fingered the text has 4 on B4 in m. 7, which comes again without digits in m. 15.
func TestEnterSaysWhereOtherFingersDoNotGo(t *testing.T) {
	const id = "polish__lodwigowski-edward-stefan-juz-tyle-razy-slonce"
	text, err := os.ReadFile(filepath.Join(shared.Folder(t, "data/fingered"), id+".mxl"))
	require.NoError(t, err)
	for lines, want := range map[string]bool{
		"15 r ok!\n15 r 2.4/16 1+3 !\n":             true,
		"15 r ok! not 7\n15 r 2.4/16 1+3 ! not 7\n": false,
		"15 r ok!\n": false,
	} {
		root := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(root, id+".mxl"), text, 0o644))
		require.NoError(t, os.WriteFile(filepath.Join(root, "lines"), []byte(lines), 0o644))
		status, out, said := command("decisions", "enter", id, filepath.Join(root, "lines"), "--in", root, "--by", "AB")
		require.Equal(t, exitClean, status, said)
		if want {
			require.Contains(t, out, "with these fingers it does not go to D4 in m. 7, which stays open", lines)
		} else {
			require.NotContains(t, out, "does not go to", lines)
		}
	}
}
