package difftext_test

import (
	"strings"
	"testing"

	"fingerproof/pipeline/4_services/compare"
	"fingerproof/reports/difftext"

	"github.com/stretchr/testify/require"
)

// Each piece with its counts, a line each, what runs through as one with examples; what is not compared at the end.
func TestDifferencesAsText(t *testing.T) {
	at := func(measure string) *compare.Place { return &compare.Place{Note: -1, Measure: measure} }
	d := &compare.Diff{Compared: []compare.Class{compare.Fingering, compare.Text}, Pieces: []compare.Piece{
		{ID: "one", NotSaid: []string{"stems (neither score gives them)"}, Causes: []compare.Cause{
			{Kind: compare.Placement, Old: "above", New: "below", Extent: "throughout: 4 digits", Changes: []int{0, 2, 3, 4}},
		}, Changes: []compare.Change{
			{Kind: compare.Placement, Old: "1 above", New: "1 below", B: at("1")},
			{Kind: compare.Clef, Old: "bass clef", A: at("2")},
			{Kind: compare.Placement, Old: "2 above", New: "2 below", B: at("3")},
			{Kind: compare.Placement, Old: "3 above", New: "3 below", B: at("4")},
			{Kind: compare.Placement, Old: "4 above", New: "4 below", B: at("5")},
			{Kind: compare.NoteAdded, New: "C5", B: at("6")},
			{Kind: compare.Dynamics, New: "p", B: at("7")},
		}},
		{ID: "two", NotSaid: []string{"stems (neither score gives them)"}},
		{ID: "three", Problem: "the file ends"},
		{ID: "four"},
	}}
	var b strings.Builder
	require.NoError(t, difftext.Write(&b, d))
	out, last, found := strings.Cut(b.String(), "not compared: layout (")
	require.True(t, found)
	require.Contains(t, last, "playback")
	require.Equal(t, `one: 1 in fingering, 3 in text
  not compared: stems (neither score gives them)
  throughout: 4 digits, the first at m. 1: placement: above → below
    also m. 3; m. 4; 1 more place
  m. 2: clef missing: bass clef
  m. 6: note added: C5
  m. 7: dynamics added: p
two: the same in fingering and text
  not compared: stems (neither score gives them)
three: could not be compared: the file ends
2 of 4 pieces are the same in fingering and text
`, out)
}
