package musicxml_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/shared/outsidetest"
	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// write lays a source and its edition down where outside programs find them.
func write(t *testing.T, dir, name string, sourceData, edition []byte) outsidetest.Pair {
	p := outsidetest.Pair{Source: filepath.Join(dir, "source-"+name), Edition: filepath.Join(dir, "edition-"+name)}
	require.NoError(t, os.WriteFile(p.Source, sourceData, 0o644))
	require.NoError(t, os.WriteFile(p.Edition, edition, 0o644))
	return p
}

// askOutside has outside programs look at pairs: the text is untouched, and the edition is valid where the source is.
func askOutside(t *testing.T, pairs []outsidetest.Pair) {
	t.Run("untouched", func(t *testing.T) { outsidetest.Untouched(t, pairs...) })
	t.Run("valid by the XSD", func(t *testing.T) { validWhereTheSourceIs(t, pairs) })
}

// validWhereTheSourceIs checks that no edition of a valid source is invalid;
// the text of a compressed score is laid beside it first.
func validWhereTheSourceIs(t *testing.T, pairs []outsidetest.Pair) {
	plain := func(path string) string {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		doc, err := source.Open(path, data, source.DefaultLimits())
		require.NoError(t, err)
		if doc.Entry == "" {
			return path
		}
		require.NoError(t, os.WriteFile(path+".xml", []byte(doc.Text), 0o644))
		return path + ".xml"
	}
	var files []string
	for _, p := range pairs {
		files = append(files, plain(p.Source), plain(p.Edition))
	}
	bad := outsidetest.Invalid(t, files...)
	require.Less(t, countSources(bad), len(pairs), "no source is valid")
	for i := 0; i < len(files); i += 2 {
		if bad[files[i]] == "" {
			require.Empty(t, bad[files[i+1]])
		}
	}
	t.Logf("%d of %d sources are valid, and so are their editions", len(pairs)-countSources(bad), len(pairs))
}

func countSources(bad map[string]string) (n int) {
	for name := range bad {
		if strings.HasPrefix(filepath.Base(name), "source-") {
			n++
		}
	}
	return n
}

// Documents of every shape, marked all over: outside programs find the text
// untouched and the edition valid.
func TestOutsideProgramsAgreeOnAnyShape(t *testing.T) {
	dir := t.TempDir()
	shapes := rapid.Custom(anyScore)
	var pairs []outsidetest.Pair
	for seed := range 160 {
		data := []byte(shapes.Example(seed))
		if bytes.Contains(data, []byte("<identification/>")) || bytes.Contains(data, []byte("<miscellaneous/>")) {
			continue // to fill an empty element is no insertion in untouched.py's eyes
		}
		doc, s, layout := open(t, "t.musicxml", data)
		pairs = append(pairs, write(t, dir, fmt.Sprintf("%d.musicxml", seed), data, markAndTakeBack(t, doc, layout, everyNote(s))))
	}
	askOutside(t, pairs)
}

// realScores takes every k-th score of each kind that is not too long for a
// test, about forty in all; the compressed size is what it goes by.
func realScores(t *testing.T) []string {
	const each, longest = 10, 15_000
	var out []string
	for _, kind := range []string{"fingered", "repertoire", "engraved", "witnesses"} {
		files, err := filepath.Glob(filepath.Join(shared.Folder(t, "data"), kind, "*.mxl"))
		require.NoError(t, err)
		var short []string
		for _, f := range files {
			info, err := os.Stat(f)
			require.NoError(t, err)
			if info.Size() <= longest {
				short = append(short, f)
			}
		}
		for i := range min(each, len(short)) {
			out = append(out, short[i*len(short)/min(each, len(short))])
		}
	}
	require.NotEmpty(t, out)
	return out
}

// Real scores, marked all over: what we read back is the same music, and
// outside programs find the text untouched and the edition valid where the
// source is.
func TestRealScoresAreLeftUntouched(t *testing.T) {
	dir := t.TempDir()
	var pairs []outsidetest.Pair
	for i, path := range realScores(t) {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		doc, s, layout := open(t, filepath.Base(path), data)
		marking := everyNote(s)
		edition := markAndTakeBack(t, doc, layout, marking)
		_, after, _ := open(t, filepath.Base(path), edition)
		sameMusic(t, filepath.Base(path), s, after, marking)
		pairs = append(pairs, write(t, dir, fmt.Sprintf("%d.mxl", i), data, edition))
	}
	askOutside(t, pairs)
}

// sameMusic compares everything of each note but its digits, its place in the
// file, and what hand signs that were added say.
func sameMusic(t *testing.T, name string, before, after *score.Score, marking score.Marking) {
	digits := map[int]int{}
	for _, m := range marking.Marks {
		digits[m.Note] = len(m.Digits)
	}
	require.Equal(t, before.Parts, after.Parts, name)
	require.Equal(t, before.Measures, after.Measures, name)
	require.Equal(t, len(before.Notes), len(after.Notes), name)
	require.Equal(t, len(before.Oddities), len(after.Oddities), name)
	for i := range before.Notes {
		x, y := before.Notes[i], after.Notes[i]
		require.Equal(t, len(x.Indications)+digits[i], len(y.Indications), "%s, note %d", name, i)
		x.Indications, x.Line, x.Column = nil, 0, 0
		y.Indications, y.Line, y.Column = nil, 0, 0
		require.Equal(t, x, y, "%s, note %d", name, i)
	}
}

// Real scores in other clothes: plain text in place of an archive, other
// encodings and newlines. The music is the same, and so is taking back.
func TestRealScoresInOtherClothes(t *testing.T) {
	for _, path := range realScores(t)[:12] {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		packed, want, _ := open(t, filepath.Base(path), data)
		text := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(packed.Text)
		for clothes, plain := range map[string][]byte{
			"plain":      []byte(packed.Text),
			"with a BOM": append([]byte("\xEF\xBB\xBF"), packed.Text...),
			"CR LF":      []byte(strings.ReplaceAll(text, "\n", "\r\n")),
			"CR":         []byte(strings.ReplaceAll(text, "\n", "\r")),
			"one line":   []byte(strings.ReplaceAll(text, "\n", " ")),
			"UTF-16":     utf16LittleEndian(text),
		} {
			doc, s, layout := open(t, filepath.Base(path), plain)
			require.Equal(t, onsets(want), onsets(s), "%s, %s", path, clothes)
			edition := markAndTakeBack(t, doc, layout, everyNote(s))
			if clothes == "CR LF" {
				require.Equal(t, bytes.Count(edition, []byte("\n")), bytes.Count(edition, []byte("\r\n")), "no bare line feed goes in")
			}
			if clothes == "one line" {
				require.Zero(t, bytes.Count(edition, []byte("\n")), "no line is broken where the file has one")
			}
		}
	}
}
