package engrave

import (
	"archive/zip"
	"context"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"
)

// Real scores of each kind: every excerpt is drawn, is well-formed, and shows the very notes of its measures.
func TestExcerptsOfRealScores(t *testing.T) {
	ctx := context.Background()
	worker := newWorker(t, openPress(t))
	drawn := 0
	for _, kind := range []string{"engraved", "fingered", "repertoire"} {
		files, err := filepath.Glob(filepath.Join(shared.Folder(t, "data"), kind, "*.mxl"))
		require.NoError(t, err)
		for i := 0; i < len(files); i += 41 {
			name := filepath.Base(files[i])
			sheet, err := Copy(scoreOf(t, files[i]), CopyOptions{})
			require.NoError(t, err, name)
			first := sheet.Measures / 2
			last := min(first+2, sheet.Measures-1)
			picture, err := worker.Excerpt(ctx, sheet, first, last, ExcerptOptions{Glyphs: &Glyphs{}})
			require.NoError(t, err, name)
			document := etree.NewDocument()
			require.NoError(t, document.ReadFromString(picture.SVG), name)
			wanted := map[string]bool{}
			for _, part := range sheet.parts {
				for _, measure := range part.measures[first : last+1] {
					for _, note := range measure.SelectElements("note") {
						wanted[note.SelectAttrValue("id", "")] = true
					}
				}
			}
			for _, note := range document.FindElements("//g[@class='note']") {
				require.True(t, wanted[note.SelectAttrValue("data-id", "")], name)
			}
			drawn++
		}
	}
	require.Greater(t, drawn, 20)
}

// scoreOf reads the score out of a compressed file.
func scoreOf(t *testing.T, path string) []byte {
	t.Helper()
	archive, err := zip.OpenReader(path)
	require.NoError(t, err)
	defer archive.Close()
	for _, file := range archive.File {
		if strings.HasPrefix(file.Name, "META-INF") || file.FileInfo().IsDir() {
			continue
		}
		reader, err := file.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(reader)
		require.NoError(t, err)
		return text
	}
	t.Fatalf("%s holds no score", path)
	return nil
}
