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

// An editor's own fingering is a copy of theirs, or the digits of the text; these are nobody else's then.
func TestTheManifestNamesADraft(t *testing.T) {
	dir := t.TempDir()
	write := func(text string) string {
		path := filepath.Join(dir, corpus.ManifestName)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	c, err := corpus.Open(write("text_digits: earlier\npieces:\n  - {score: a.musicxml, draft: {by: AB}}\n" +
		"  - {score: b.musicxml, draft: {by: CD, score: drafts/b.musicxml}}\n"))
	require.NoError(t, err)
	require.Equal(t, &corpus.Draft{By: "AB"}, c.Pieces[0].Draft)
	require.Equal(t, &corpus.Draft{By: "CD", Score: "drafts/b.musicxml"}, c.Pieces[1].Draft)
	require.Equal(t, []string{"", "earlier"}, []string{c.Pieces[0].TextDigits, c.Pieces[1].TextDigits})
	for text, says := range map[string]string{
		"{score: a.musicxml, text_digits: composer, draft: {by: AB}}": "and a draft as well",
		"{score: a.musicxml, draft: {score: b.musicxml}}":             "needs the initials",
		"{score: a.musicxml, draft: {by: A1}}":                        "are no initials",
		"{score: a.musicxml, draft: {by: AB, score: b.pdf}}":          "is no MusicXML or MEI score",
	} {
		_, err := corpus.Open(write("pieces:\n  - " + text + "\n"))
		require.ErrorContains(t, err, says)
	}
}
