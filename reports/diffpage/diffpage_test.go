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
	page := &diffpage.Page{Diff: d, Corrections: compare.Sheet(d, nil), NotCompared: []string{"playback"}, Notation: "no <engraver>"}
	var b strings.Builder
	require.NoError(t, page.Write(&b))
	out := b.String()
	for _, want := range []string{
		"m. 12, beat 2", "digit changed", "99.9 %", "&lt;script&gt;", "a&lt;b&gt;.musicxml",
		"the file is cut short", "second", "Not compared:</b> playback", "no &lt;engraver&gt;",
	} {
		require.Contains(t, out, want)
	}
	require.Equal(t, 1, strings.Count(out, "<script>"), "what a score says is never code")
	for _, outside := range []string{"http://", "https://", "src=", "@import"} {
		require.NotContains(t, strings.ReplaceAll(out, "http://www.w3.org/2000/svg", ""), outside)
	}
	require.Less(t, strings.Index(out, "digit changed"), strings.Index(out, "&lt;script&gt;"), "in the order of the music")
	for _, c := range page.Corrections {
		if c.ID != "" {
			require.Contains(t, out, `id="c-`+c.ID+`"`, "a sheet's link leads to its line")
		}
	}
	var again strings.Builder
	require.NoError(t, page.Write(&again))
	require.Equal(t, out, again.String())
}

// What runs through is one line; a sheet's link to any of its places leads there, and its marks name each.
func TestOneCauseIsOneLineOfThePage(t *testing.T) {
	piece := compare.Piece{ID: "op1", Causes: []compare.Cause{
		{Kind: compare.Placement, Old: "above", New: "below", Extent: "throughout: 3 digits", Changes: []int{0, 2, 3}},
	}}
	for k, kind := range []compare.Kind{compare.Placement, compare.Pitch, compare.Placement, compare.Placement} {
		at := &compare.Place{Measure: []string{"1", "2", "3", "40"}[k], Beat: "1", Index: []int{0, 1, 2, 39}[k]}
		piece.Changes = append(piece.Changes, compare.Change{Kind: kind, Old: "3 above", New: "3 below", B: at})
	}
	d := &compare.Diff{Old: "a", New: "b", Pieces: []compare.Piece{piece}}
	page := &diffpage.Page{Diff: d, Corrections: compare.Sheet(d, nil)}
	var b strings.Builder
	require.NoError(t, page.Write(&b))
	out := b.String()
	require.Contains(t, out, "2 differences in 1 piece")
	require.Equal(t, 2, strings.Count(out, `class="line"`))
	require.Contains(t, out, "throughout: 3 digits, the first at m. 1")
	require.Contains(t, out, "placement: below → above")
	for _, c := range page.Corrections {
		require.Equal(t, 1, strings.Count(out, `id="c-`+c.ID+`"`))
	}
	require.Equal(t, 2, strings.Count(out, "&#34;reads&#34;:&#34;3 below&#34;"), "the others' marks")
}
