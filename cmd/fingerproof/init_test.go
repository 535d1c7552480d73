package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"fingerproof/corpus"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever people call their files, the manifest that init writes names them
// all and can be read again.
func TestInitListsEveryFileName(t *testing.T) {
	top, round := t.TempDir(), 0
	rapid.Check(t, func(t *rapid.T) {
		round++
		dir := filepath.Join(top, string(rune('a'+round%26)), filepath.Base(t.Name()), string(rune('a'+round/26%26)))
		require.NoError(t, os.RemoveAll(dir))
		require.NoError(t, os.MkdirAll(dir, 0o755))
		stem := rapid.StringMatching(`[a-z0-9 :#"'\[\]{}&*!?|>%@,~é=.-]{1,12}`)
		names := map[string]bool{}
		for range rapid.IntRange(1, 5).Draw(t, "files") {
			name := stem.Draw(t, "stem") + rapid.SampledFrom([]string{".xml", ".musicxml", ".mxl"}).Draw(t, "extension")
			if name[0] != '.' {
				names[name] = true
				require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("x"), 0o644))
			}
		}
		require.NoError(t, initCollection(&environment{Stdout: &bytes.Buffer{}}, dir, true))
		c, err := corpus.Open(dir)
		if len(names) == 0 {
			require.ErrorContains(t, err, "lists no piece")
			return
		}
		require.NoError(t, err)
		var listed []string
		for _, p := range c.Pieces {
			listed = append(listed, p.Score)
			require.True(t, names[p.Score], p.Score)
		}
		require.Len(t, slices.Compact(slices.Sorted(slices.Values(listed))), len(names))
	})
}

func TestInitLeavesOutNamesThatAreNoText(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "bad\xff.xml"), []byte("x"), 0o644); err != nil {
		t.Skip("this file system takes only text for names")
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "good.xml"), []byte("x"), 0o644))
	var out bytes.Buffer
	require.NoError(t, initCollection(&environment{Stdout: &out}, dir, true))
	require.Contains(t, out.String(), `left out "bad\xff.xml"`)
	require.Contains(t, out.String(), "One score is listed")
	c, err := corpus.Open(dir)
	require.NoError(t, err)
	require.Len(t, c.Pieces, 1)
}
