package source_test

import (
	"strings"
	"testing"

	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// anyEdits draws sorted edits of a text that do not overlap.
func anyEdits(t *rapid.T, text string) []source.Edit {
	var out []source.Edit
	at := 0
	for at <= len(text) && len(out) < 8 {
		from := rapid.IntRange(at, len(text)).Draw(t, "from")
		to := min(from+rapid.IntRange(0, 5).Draw(t, "length"), len(text))
		out = append(out, source.Edit{Offset: from, Old: text[from:to], New: rapid.StringMatching(`[a-zé<>]{0,4}`).Draw(t, "new")})
		at = to + 1
	}
	return out
}

func TestEditsApplyAndInvertExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[a-z<>\r\n ]{0,60}`).Draw(t, "text")
		edits := anyEdits(t, text)
		changed, err := source.Apply(text, edits)
		require.NoError(t, err)
		back, err := source.Apply(changed, source.Invert(edits))
		require.NoError(t, err)
		require.Equal(t, text, back)
	})
}

func TestEditsThatDoNotFitAreRefused(t *testing.T) {
	for name, edits := range map[string][]source.Edit{
		"outside":      {{Offset: 9, New: "x"}},
		"other text":   {{Offset: 0, Old: "b"}},
		"out of order": {{Offset: 2}, {Offset: 1}},
		"overlapping":  {{Offset: 0, Old: "ab"}, {Offset: 1, Old: "b"}},
		"negative":     {{Offset: -1}},
	} {
		_, err := source.Apply("abc", edits)
		require.Error(t, err, name)
	}
}

// What the file's encoding has no byte for goes in as a character reference,
// and the record takes that back too.
func TestCharactersTheEncodingLacks(t *testing.T) {
	data := []byte("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><a>\xfc</a>")
	doc, err := source.Open("a.xml", data, source.DefaultLimits())
	require.NoError(t, err)
	at := strings.Index(doc.Text, "</a>")
	edition, record, err := doc.Edition([]source.Edit{{Offset: at, New: "4–3"}})
	require.NoError(t, err)
	require.Contains(t, string(edition), "\xfc4&#8211;3</a>")
	back, err := source.TakeBack(edition, record, source.DefaultLimits())
	require.NoError(t, err)
	require.Equal(t, data, back)
	_, err = source.TakeBack(append(edition, ' '), record, source.DefaultLimits())
	require.ErrorContains(t, err, "changed since")
}
