package source_test

import (
	"encoding/json"
	"testing"

	"fingerproof/corpus/source"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A record is written as the standard library writes it.
func TestRecordsAreWrittenAsTheStandardLibraryDoes(t *testing.T) {
	text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
		"", "<fingering>3</fingering>\n\t", `a "quoted" \ & 'one'`, "\x7f\u2028\ufffe\xff", "\r\n", "é", "\n \"edits\": []",
	}))
	rapid.Check(t, func(t *rapid.T) {
		r := &source.Record{
			Version: 1, File: text.Draw(t, "file"), Entry: text.Draw(t, "entry"), Encoding: "utf-8", Source: "00", Edition: text.Draw(t, "sum"),
		}
		for range rapid.IntRange(0, 4).Draw(t, "edits") {
			r.Edits = append(r.Edits, source.Edit{
				Offset: rapid.IntRange(0, 1<<30).Draw(t, "offset"), Old: text.Draw(t, "old"), New: text.Draw(t, "new"),
			})
		}
		for range rapid.IntRange(0, 2).Draw(t, "pieces") {
			r.Archive = append(r.Archive, source.Piece{Kept: text.Draw(t, "kept"), From: 3, Size: 4})
		}
		want, err := json.MarshalIndent(r, "", " ")
		require.NoError(t, err)
		have, err := r.Indented()
		require.NoError(t, err)
		require.Equal(t, string(want), string(have))
	})
}
