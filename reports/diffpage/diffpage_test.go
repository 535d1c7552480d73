package diffpage_test

import (
	"strings"
	"testing"

	"fingerproof/pipeline/4_services/compare"
	"fingerproof/reports/diffpage"

	"github.com/stretchr/testify/require"
)

func TestPageHoldsEverythingAndNothingFromOutside(t *testing.T) {
	d := &compare.Diff{Old: "a<b>.musicxml", New: "b.musicxml", Pieces: []compare.Piece{
		{ID: "first", Notes: 10, Covered: 99950, Changes: []compare.Change{
			{Kind: compare.DigitChanged, Old: "3", New: "4", B: &compare.Place{Measure: "12", Beat: "2", Pitch: "G4"}},
			{Kind: compare.Pitch, Old: "G4", New: "<script>", B: &compare.Place{Measure: "13", Beat: "1"}},
		}},
		{ID: "second"},
		{ID: "third", Problem: "the file is cut short"},
	}}
	var b strings.Builder
	require.NoError(t, diffpage.Write(&b, d))
	out := b.String()
	for _, want := range []string{
		"m. 12, beat 2, G4", "digit changed", "99.9 %", "&lt;script&gt;", "a&lt;b&gt;.musicxml",
		"the file is cut short", "second",
	} {
		require.Contains(t, out, want)
	}
	require.Equal(t, 1, strings.Count(out, "<script>"), "what a score says is never code")
	for _, outside := range []string{"http://", "https://", "src=", "@import"} {
		require.NotContains(t, out, outside)
	}
	require.Less(t, strings.Index(out, "digit changed"), strings.Index(out, "&lt;script&gt;"), "fingering before text")
	var again strings.Builder
	require.NoError(t, diffpage.Write(&again, d))
	require.Equal(t, out, again.String())
}
