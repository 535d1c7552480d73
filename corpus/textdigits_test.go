package corpus_test

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus"

	"github.com/stretchr/testify/require"
)

// Whose the digits in the text are is said once for all pieces; one that says it for itself keeps its own word.
func TestTheManifestSaysForAllWhoseTheDigitsAre(t *testing.T) {
	dir := t.TempDir()
	write := func(text string) string {
		path := filepath.Join(dir, corpus.ManifestName)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	pieces := "pieces:\n  - score: a.musicxml\n  - {score: b.musicxml, text_digits: composer}\n"
	c, err := corpus.Open(write(pieces + "text_digits: earlier\n"))
	require.NoError(t, err)
	require.Equal(t, []string{"earlier", "composer"}, []string{c.Pieces[0].TextDigits, c.Pieces[1].TextDigits})
	c, err = corpus.Open(write(pieces))
	require.NoError(t, err)
	require.Empty(t, c.Pieces[0].TextDigits)
	_, err = corpus.Open(write("text_digits: mine\n" + pieces))
	require.ErrorContains(t, err, "text_digits")
}
