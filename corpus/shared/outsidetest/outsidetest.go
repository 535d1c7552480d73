// Package outsidetest lets tests ask programs that share no code with this one. A test is skipped, with the reason,
// where the program or what it needs is not here: ask in a subtest, so that nothing else is skipped with it.
package outsidetest

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/stretchr/testify/require"
)

// Invalid gives, of MusicXML files without compression, those that the XSD of MusicXML 4.0 (W3C) refuses, with what
// xmllint says of each first.
func Invalid(t *testing.T, files ...string) map[string]string {
	t.Helper()
	folder, err := filepath.Abs(shared.Folder(t, "schemas/musicxml-4.0"))
	require.NoError(t, err)
	xmllint, err := exec.LookPath("xmllint")
	if err != nil {
		t.Skip("xmllint is not installed: validity against the XSD is not checked")
	}
	require.NotEmpty(t, files)
	args := append([]string{"--nonet", "--noout", "--schema", filepath.Join(folder, "musicxml.xsd")}, files...)
	cmd := exec.Command(xmllint, args...)
	cmd.Env = append(os.Environ(), "XML_CATALOG_FILES=file://"+filepath.Join(folder, "catalog.xml"))
	said, _ := cmd.CombinedOutput() // its status only says that some file is invalid
	out, judged, complaint := map[string]string{}, 0, ""
	for _, line := range strings.Split(string(said), "\n") {
		if strings.HasSuffix(line, " validates") {
			judged++
			complaint = ""
		} else if name, fails := strings.CutSuffix(line, " fails to validate"); fails {
			judged++
			out[name], complaint = complaint, ""
		} else if complaint == "" {
			complaint = line
		}
	}
	require.Equal(t, len(files), judged, "%s", said)
	return out
}

// Pair is the files of a score and of an edition made of it.
type Pair struct{ Source, Edition string }

// Untouched requires that each edition holds the text of its score unchanged, as the untouched.py of the shared folder
// sees it.
func Untouched(t *testing.T, pairs ...Pair) {
	t.Helper()
	tools := shared.Folder(t, "tools")
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("python3 is not installed: it runs the independent check that the text is untouched")
	}
	require.NotEmpty(t, pairs)
	args := []string{"-c", shared.Untouched, tools}
	for _, p := range pairs {
		args = append(args, p.Source, p.Edition)
	}
	cmd := exec.Command(python, args...)
	cmd.Env = append(os.Environ(), "PYTHONDONTWRITEBYTECODE=1")
	said, err := cmd.CombinedOutput()
	require.NotEmpty(t, said, "%v", err)
	lines := strings.Split(strings.TrimSpace(string(said)), "\n")
	require.Len(t, lines, len(pairs))
	for _, line := range lines {
		require.True(t, strings.HasSuffix(line, ": untouched"), line)
	}
}
