package corpus_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus"

	"github.com/stretchr/testify/require"
)

// An id names files, on every system an editor may use.
func TestIdsThatSomeSystemCannotNameAFileByAreFaults(t *testing.T) {
	for _, id := range []string{
		"CON", "con", "Nul", "com1", "LPT9", "COM¹", "aux.op1", "PRN .x", "conin$", // devices of Windows
		"op1.", "op1 ", " op1", ".op1", "a/b", `a\b`, "a:b", "a*", "what?", "<a>", "a|b", `"a"`, "a\u0007b",
		strings.Repeat("x", 201),
	} {
		_, err := corpus.ParseManifest("collection.yaml", []byte("pieces:\n- {score: a.xml, id: "+quoted(id)+"}\n"))
		require.ErrorContains(t, err, "cannot be a file name", id)
	}
	for _, id := range []string{
		"op1", "console", "com", "com10", "lpt", "null", "auxiliary", "Étude no. 3", "op. 12", "小品", strings.Repeat("x", 200),
	} {
		_, err := corpus.ParseManifest("collection.yaml", []byte("pieces:\n- {score: a.xml, id: "+quoted(id)+"}\n"))
		require.NoError(t, err, id)
	}
}

func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\a", `\a`).Replace(s) + `"`
}

// Paths are read alike on every system: with slashes of either kind, never with a drive.
func TestPathsOfAManifestAreThoseOfEverySystem(t *testing.T) {
	c, err := corpus.ParseManifest("collection.yaml", []byte("pieces:\n- score: 'scores\\op1.xml'\n- score: scores/op2.xml\n"))
	require.NoError(t, err)
	require.Equal(t, "scores/op1.xml", c.Pieces[0].Score)
	require.Equal(t, "scores/op2.xml", c.Pieces[1].Score)
	for _, path := range []string{`C:\scores\op1.xml`, "c:op1.xml", `\\server\share\op1.xml`, `..\op1.xml`, "/op1.xml", `a\..\..\op1.xml`} {
		_, err := corpus.ParseManifest("collection.yaml", []byte("pieces:\n- score: '"+path+"'\n"))
		require.ErrorContains(t, err, "leads out of the collection", path)
	}
}

// No path leads to a drive, a stream or a device on Windows, though it is a file's name elsewhere. Checked against the
// paths that Go's filepath.IsLocal refuses there (its documentation: reserved names; its source: any colon).
func TestAPathThatWindowsTakesForSomethingElseIsRefusedWithItsLine(t *testing.T) {
	for path, part := range map[string]string{
		"a/../C:": "C:", "a/C:": "C:", "..C:.xml": "..C:.xml", "a/b:c.xml": "b:c.xml", "op1.xml:2": "op1.xml:2",
		"NUL.xml": "NUL.xml", "con/op1.xml": "con", "a/Lpt1 .xml": "Lpt1 .xml",
	} {
		_, err := corpus.ParseManifest("collection.yaml", []byte("pieces:\n- score: '"+path+"'\n"))
		require.ErrorContains(t, err, "cannot be one on Windows", path)
		require.ErrorContains(t, err, quoted(part)+" is a device there or has a colon", path)
		require.ErrorContains(t, err, "collection.yaml:2:", path)
	}
	for _, path := range []string{"console/com.xml", "a/null.xml", "...xml", "com10.xml"} {
		_, err := corpus.ParseManifest("collection.yaml", []byte("pieces:\n- score: '"+path+"'\n"))
		require.NoError(t, err, path)
	}
}

// Lines may end as Windows ends them, and a mark may stand before the first.
func TestAManifestWithTheLineEndsOfWindows(t *testing.T) {
	text := "\ufeffpieces:\n  - score: a.xml\n    id: one\n  - score: b.xml\n"
	c, err := corpus.ParseManifest("collection.yaml", []byte(strings.ReplaceAll(text, "\n", "\r\n")))
	require.NoError(t, err)
	require.Equal(t, "one b", func() string { c.Pieces[1].ID = "b"; return ids(c) }())
}

func TestAScoreWhoseNameIsTooLongIsAFaultOfThatPieceAlone(t *testing.T) {
	dir := t.TempDir()
	long := strings.Repeat("sonata ", 30) + ".xml"
	for _, name := range []string{"a.xml", long} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("x"), 0o600))
	}
	c, err := corpus.Open(dir)
	require.NoError(t, err)
	require.NoError(t, c.Pieces[0].Fault)
	require.ErrorContains(t, c.Pieces[1].Fault, "is too long: it has 214 bytes")
}
