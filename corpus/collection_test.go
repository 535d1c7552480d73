package corpus_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"
	"pgregory.net/rapid"
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
	dir := write(t, t.TempDir(), map[string]string{
		"op10.musicxml": "x", "op2.xml": "x", "Op 1.v2.mxl": "x", "notes.txt": "x", "sub/op3.musicxml": "x",
		".hidden.xml": "x",
	})
	c, err := corpus.Open(dir)
	require.NoError(t, err)
	require.Equal(t, "Op 1.v2 op2 op10", ids(c))
	require.Equal(t, corpus.TwoHands, c.Pieces[0].Scoring)
}

func TestSameIdOrFileNameIsAFaultOfThePieceAlone(t *testing.T) {
	dir := write(t, t.TempDir(), map[string]string{"a.xml": "x", "a.mxl": "x", "b.xml": "x", "c/b.xml": "x",
		"collection.yaml": "pieces:\n- score: a.xml\n- score: a.mxl\n- score: b.xml\n" +
			"- {id: other, score: c/b.xml}\n- score: gone.xml\n",
	})
	c, err := corpus.Open(dir)
	require.NoError(t, err)
	require.NoError(t, c.Pieces[0].Fault)
	require.ErrorContains(t, c.Pieces[1].Fault, `a.xml and a.mxl have the same id "a"`)
	require.NoError(t, c.Pieces[2].Fault)
	require.ErrorContains(t, c.Pieces[3].Fault, "same file name")
	require.ErrorContains(t, c.Pieces[4].Fault, "there is no score gone.xml")
}

func TestManifestIsReadWhole(t *testing.T) {
	dir := write(t, t.TempDir(), map[string]string{"s/a.xml": "x", "w/a.xml": "x", "collection.yaml": `
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
      - {siglum: A, name: first edition, score: w/a.xml, numbering: old, responsibility: earlier}
`})
	c, err := corpus.Open(filepath.Join(dir, "collection.yaml"))
	require.NoError(t, err)
	require.Equal(t, corpus.Piece{
		ID: "op1", Title: "Study", Score: "s/a.xml", Scoring: corpus.LeftHandAlone, Parts: []string{"P2"}, Year: 1840,
		TextDigits: "earlier", Tempo: corpus.Tempo{Low: 88, High: 104},
		Witnesses: []corpus.Witness{
			{Siglum: "A", Name: "first edition", Score: "w/a.xml", Numbering: corpus.Old, Responsibility: "earlier"},
		},
	}, c.Pieces[0])
}

// Each testdata/faults/*.yaml has the exact message beside it in *.txt.
func TestManifestFaults(t *testing.T) {
	files, err := filepath.Glob("testdata/faults/*.yaml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 8)
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
	dir := write(t, t.TempDir(), map[string]string{
		"a.pdf": "%PDF-1.7", "b.musicxml": "%PDF-1.7", "c.mid": "MThd\x00", "d.mscz": "PK\x03\x04",
		"e.txt": "<?xml version='1.0'?><score-partwise/>", "f.xml": "",
		"g.jpg": "\xff\xd8\xff", "h.krn": "**kern", "score": "PK\x03\x04", "i.\x1b[31m": "x",
		"collection-empty.yaml": "", "pictures/x.txt": "no", "none/.hidden.xml": "x", "sonatina.musicxml": "x",
	})
	require.NoError(t, os.Mkdir(filepath.Join(dir, "empty"), 0o755))
	for name, want := range map[string]string{
		"a.pdf": "is a PDF", "b.musicxml": "is a PDF", "c.mid": "is a MIDI file",
		"d.mscz": "is a notation program's own file (.mscz)", "e.txt": "rename it",
		"f.xml": "is empty", "g.jpg": "is a picture", "h.krn": "is a kern file", "score": "whose name has no extension",
		"i.\x1b[31m":            `is a ".\x1b[31m" file`,
		"collection-empty.yaml": "lists no piece",
		"nowhere.xml":           "hint: name a score", "sonatin.musicxml": "hint: did you mean",
		"no/where.xml": "there is no file or folder",
		"empty":        "it is empty", "none": "it is empty", "pictures": "1 file in it, none ends in",
	} {
		_, err := corpus.Open(filepath.Join(dir, name))
		require.ErrorContains(t, err, want, name)
	}
	_, err := corpus.Open(os.DevNull)
	require.ErrorContains(t, err, "no ordinary file")
}

func TestNamesThatSomeMachineTakesForOneAreFaults(t *testing.T) {
	composed, apart := "\u00e9tude.xml", "e\u0301tude.mxl"
	dir := write(t, t.TempDir(), map[string]string{
		composed: "x", apart: "x", "Waltz.xml": "x", "waltz.mxl": "x", "s/x.xml": "x", "t/X.xml": "x",
		"collection.yaml": "pieces:\n- score: " + composed + "\n- score: " + apart + "\n- score: Waltz.xml\n" +
			"- score: waltz.mxl\n- {id: one, score: s/x.xml}\n- {id: two, score: t/X.xml}\n",
	})
	c, err := corpus.Open(dir)
	require.NoError(t, err)
	for i, want := range []string{"", "same id", "", "same id", "", "same file name"} {
		if want == "" {
			require.NoError(t, c.Pieces[i].Fault)
		} else {
			require.ErrorContains(t, c.Pieces[i].Fault, want)
		}
	}
}

func TestWhatIsMissingIsAFaultOfItsPieceAlone(t *testing.T) {
	dir := write(t, t.TempDir(), map[string]string{"s/waltz.xml": "x", "s/march.xml": "x", "f.xml/x": "x",
		"collection.yaml": `
pieces:
- score: s/waltz.xml
- score: s/walz.xml
- {score: s/march.xml, witnesses: [{siglum: B, score: w/march.xml}]}
- score: f.xml
`})
	c, err := corpus.Open(dir)
	require.NoError(t, err)
	require.NoError(t, c.Pieces[0].Fault)
	require.EqualError(t, c.Pieces[1].Fault, "there is no score s/walz.xml\nhint: did you mean \"s/waltz.xml\"?")
	require.EqualError(t, c.Pieces[2].Fault, "witness B: there is no score w/march.xml")
	require.EqualError(t, c.Pieces[3].Fault, "f.xml is a folder, not a score\nhint: list the scores in it one by one")
}

// Whatever path a manifest names, the file it leads to lies in its folder.
func TestNoPathLeadsOutOfTheCollection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOfN(
			rapid.SampledFrom([]string{"..", ".", "a", "b c", "/", `\`, "", "C:", "é", "..."}), 1, 6,
		).Draw(t, "parts")
		path := strings.Join(parts, rapid.SampledFrom([]string{"/", `\`, ""}).Draw(t, "joint")) + ".xml"
		quoted, err := yaml.Marshal(path)
		require.NoError(t, err)
		c, err := corpus.ParseManifest(filepath.Join("root", "collection.yaml"), []byte(
			"pieces:\n- score: "+string(quoted),
		))
		if err != nil {
			return
		}
		rel, err := filepath.Rel("root", c.Path(c.Pieces[0].Score))
		require.NoError(t, err)
		require.True(t, filepath.IsLocal(rel), "%q leads to %q", path, rel)
		require.NotContains(t, rel, ":", "on Windows %q is no path within a folder", path)
	})
}

func FuzzManifest(f *testing.F) {
	f.Add([]byte(
		"title: x\npieces:\n- {id: a, score: a.xml, scoring: four hands, parts: [P1], year: 1800, tempo: 60, " +
			"witnesses: [{siglum: A, score: b.xml, numbering: old}]}\n",
	))
	files, err := filepath.Glob("testdata/faults/*.yaml")
	require.NoError(f, err)
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := corpus.ParseManifest("collection.yaml", data)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		for _, p := range c.Pieces {
			require.True(t, filepath.IsLocal(filepath.FromSlash(p.Score)), p.Score)
			require.NotContains(t, p.ID, "/")
		}
	})
}
