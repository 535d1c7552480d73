package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus"

	"github.com/stretchr/testify/require"
)

// On a terminal init asks once whose the digits in the texts are; the answer holds for all pieces, and no answer
// leaves the question in the manifest.
func TestInitAsksWhoseTheDigitsAre(t *testing.T) {
	const scoreText = `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes><note><pitch><step>C</step><octave>4</octave></pitch>
<duration>4</duration><notations><technical><fingering>1</fingering></technical></notations></note></measure></part></score-partwise>`
	for answer, want := range map[string]string{"earlier\n": "earlier", "Editor\n": "editor", "\n": "", "me\n": "", "": ""} {
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, "a.musicxml"), []byte(scoreText), 0o600))
		var out bytes.Buffer
		env := &environment{Stdin: strings.NewReader(answer), Stdout: &out, Stderr: &out, StdinIsTTY: true}
		require.NoError(t, initCollection(env, dir, "", true), out.String())
		require.Contains(t, out.String(), "1 digit stands in 1 score. Whose are they")
		c, err := corpus.Open(dir)
		require.NoError(t, err)
		require.Equal(t, want, c.Pieces[0].TextDigits, answer)
		manifest, err := os.ReadFile(filepath.Join(dir, corpus.ManifestName))
		require.NoError(t, err)
		require.Contains(t, string(manifest), "# text_digits: WHOSE", "the file's own question stays")
	}
}
