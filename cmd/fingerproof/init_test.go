package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"fingerproof/corpus"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// notOnWindows are names that Windows takes for a drive, a stream or a device.
var notOnWindows = regexp.MustCompile(`:|^(con|prn|aux|nul|com[0-9]|lpt[0-9]) *\.`)

// Whatever people call their files, the manifest that init writes names them
// all and can be read again; what cannot be a file on Windows is left out, and named.
func TestInitListsEveryFileName(t *testing.T) {
	top, round := t.TempDir(), 0
	rapid.Check(t, func(t *rapid.T) {
		round++
		dir := filepath.Join(top, string(rune('a'+round%26)), filepath.Base(t.Name()), string(rune('a'+round/26%26)))
		require.NoError(t, os.RemoveAll(dir))
		require.NoError(t, os.MkdirAll(dir, 0o755))
		stem := rapid.StringMatching(`[a-z0-9 :#"'\[\]{}&*!?|>%@,~é=.-]{1,12}`)
		names, unnamed := map[string]bool{}, []string{}
		for range rapid.IntRange(1, 5).Draw(t, "files") {
			name := stem.Draw(t, "stem") + rapid.SampledFrom([]string{".xml", ".musicxml", ".mxl"}).Draw(t, "extension")
			if name[0] != '.' {
				if notOnWindows.MatchString(name) {
					unnamed = append(unnamed, name)
				} else {
					names[name] = true
				}
				require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("x"), 0o644))
			}
		}
		var out bytes.Buffer
		require.NoError(t, initCollection(&environment{Stdout: &out, Stderr: io.Discard}, dir, "", true))
		for _, name := range unnamed {
			require.Contains(t, out.String(), fmt.Sprintf("left out %q", name))
		}
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
	require.NoError(t, initCollection(&environment{Stdout: &out, Stderr: io.Discard}, dir, "", true))
	require.Contains(t, out.String(), `left out "bad\xff.xml"`)
	require.Contains(t, out.String(), "One score is listed")
	c, err := corpus.Open(dir)
	require.NoError(t, err)
	require.Len(t, c.Pieces, 1)
}
