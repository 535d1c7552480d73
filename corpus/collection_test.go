package corpus_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite goldens")

func write(t *testing.T, dir string, files map[string]string) string {
	t.Helper()
	for name, text := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	return dir
}

func ids(c *corpus.Collection) string {
	var out []string
	for _, p := range c.Pieces {
		out = append(out, p.ID)
	}
	return strings.Join(out, " ")
}

func TestFolderIsReadFlatInTheOrderPeopleNumber(t *testing.T) {
	dir := write(t, t.TempDir(), map[string]string{"op10.musicxml": "x", "op2.xml": "x", "Op 1.v2.mxl": "x", "notes.txt": "x", "sub/op3.musicxml": "x", ".hidden.xml": "x"})
	c, err := corpus.Open(dir)
	require.NoError(t, err)
	require.Equal(t, "Op 1.v2 op2 op10", ids(c))
	require.Equal(t, corpus.TwoHands, c.Pieces[0].Scoring)
}

func TestSameIdOrFileNameIsAFaultOfThePieceAlone(t *testing.T) {
	dir := write(t, t.TempDir(), map[string]string{"a.xml": "x", "a.mxl": "x", "b.xml": "x", "c/b.xml": "x",
		"collection.yaml": "pieces:\n- score: a.xml\n- score: a.mxl\n- score: b.xml\n- {id: other, score: c/b.xml}\n- score: gone.xml\n"})
	c, err := corpus.Open(dir)
	require.NoError(t, err)
	require.NoError(t, c.Pieces[0].Fault)
	require.ErrorContains(t, c.Pieces[1].Fault, `a.xml and a.mxl have the same id "a"`)
	require.NoError(t, c.Pieces[2].Fault)
	require.ErrorContains(t, c.Pieces[3].Fault, "same file name")
	require.ErrorContains(t, c.Pieces[4].Fault, "there is no score gone.xml")
}

func TestManifestIsReadWhole(t *testing.T) {
	dir := write(t, t.TempDir(), map[string]string{"s/a.xml": "x", "collection.yaml": `
title: Works
composer: Nobody
pieces:
  - id: op1
    title: Study
    score: s/a.xml
    scoring: left hand alone
    parts: [P2]
    year: 1840
    tempo: [88, 104]
    text_digits: earlier
    witnesses:
      - {siglum: A, score: w/a.xml, numbering: old, responsibility: earlier}
`})
	c, err := corpus.Open(filepath.Join(dir, "collection.yaml"))
	require.NoError(t, err)
	require.Equal(t, corpus.Piece{ID: "op1", Title: "Study", Score: "s/a.xml", Scoring: corpus.LeftHandAlone, Parts: []string{"P2"}, Year: 1840,
		TextDigits: "earlier", Tempo: corpus.Tempo{Low: 88, High: 104},
		Witnesses: []corpus.Witness{{Siglum: "A", Score: "w/a.xml", Numbering: corpus.Old, Responsibility: "earlier"}}}, c.Pieces[0])
}

// Each testdata/faults/*.yaml has the exact message beside it in *.txt.
func TestManifestFaults(t *testing.T) {
	files, err := filepath.Glob("testdata/faults/*.yaml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 4)
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		_, err = corpus.ParseManifest(filepath.Base(f), data)
		require.Error(t, err, f)
		golden := strings.TrimSuffix(f, ".yaml") + ".txt"
		if *update {
			require.NoError(t, os.WriteFile(golden, []byte(err.Error()+"\n"), 0o644))
		}
		want, rerr := os.ReadFile(golden)
		require.NoError(t, rerr)
		require.Equal(t, string(want), err.Error()+"\n", f)
	}
}

func TestFirstContact(t *testing.T) {
	dir := write(t, t.TempDir(), map[string]string{"a.pdf": "%PDF-1.7", "b.musicxml": "%PDF-1.7", "c.mid": "MThd\x00", "d.mscz": "PK\x03\x04", "e.txt": "<?xml version='1.0'?><score-partwise/>", "f.xml": "", "empty/x.txt": "no"})
	for name, want := range map[string]string{
		"a.pdf": "is a PDF", "b.musicxml": "is a PDF", "c.mid": "is a MIDI file", "d.mscz": "is a .mscz file", "e.txt": "rename it",
		"f.xml": "is empty", "nowhere.xml": "there is no file or folder", "empty": "none of its 1 files",
	} {
		_, err := corpus.Open(filepath.Join(dir, name))
		require.ErrorContains(t, err, want, name)
	}
}
