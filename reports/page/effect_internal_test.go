package page

import (
	"testing"

	"fingerproof/reports/engrave"

	"github.com/stretchr/testify/require"
)

// A digit that differs is framed on both sides, a note with a digit on one side is ringed on the other; what prints alike
// is named and shown by no frame, and where all of a passage does, there are no two equal pictures.
func TestTheEffectFramesWhatDiffersInPrint(t *testing.T) {
	digit := func(text ...string) (n engrave.NoteMarks) {
		for _, one := range text {
			n.Digits = append(n.Digits, engrave.DrawnDigit{Text: one})
		}
		return n
	}
	sheets := [2]*engrave.Sheet{
		{Notes: []engrave.NoteMarks{digit("4"), digit("4"), digit("3"), {}, digit("5")}},
		{Notes: []engrave.NoteMarks{digit("4"), digit("4", "5"), {}, {}, digit("5")}},
	}
	notes := []NoteEffect{{0, "D3: finger 4 → 4-5"}, {1, "E3: finger 4 → 4-5"}, {2, "F3: printed → not printed"}, {3, "G3: finger 1 → 2"}, {99, "x"}}
	require.Equal(t, []string{"D3: finger 4 → 4-5", "G3: finger 1 → 2"}, frame(sheets, notes))
	for side, sheet := range sheets {
		require.False(t, sheet.Notes[0].Digits[0].Boxed, side)
		require.Empty(t, sheet.Notes[3].Ring, side)
		require.False(t, sheet.Notes[4].Digits[0].Boxed, side)
		for _, d := range sheet.Notes[1].Digits {
			require.True(t, d.Boxed, side)
		}
	}
	require.True(t, sheets[0].Notes[2].Digits[0].Boxed)
	require.Equal(t, "bare", sheets[1].Notes[2].Ring)

	e := &Effect{Printed: "Digits in print: 30 now, 21 then (9 fewer).", Passages: []PassageEffect{{
		Piece: "a", Hand: "L", From: "118", To: "118", Count: 1, alike: []string{"D3: finger 4 → 4-5", "b", "c", "d", "e", "f", "g", "h"},
	}}}
	html, err := PolicyEffect(e, "Pieces", "other.yaml")
	require.NoError(t, err)
	require.Contains(t, string(html), "In the fingering alone, the digits in print stay: D3: finger 4 → 4-5; b; c; d; e; f; and 2 more.")
	require.Contains(t, string(html), "Digits in print: 30 now, 21 then (9 fewer).")
	require.NotContains(t, string(html), "As it would print")
}
