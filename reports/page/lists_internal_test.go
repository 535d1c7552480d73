package page

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The rows of a piece stand below its name, with what all of them have in common said there alone; no row is lost.
func TestRowsStandByPiece(t *testing.T) {
	rows := []listRow{
		{Piece: "A", Cells: []string{"1", "text"}}, {Piece: "A", Cells: []string{"2", "text"}},
		{Piece: "B", Cells: []string{"1", "text"}}, {Piece: "B", Cells: []string{"2", "policy"}},
	}
	got := onceAPiece(byPiece(table{Heads: []string{"What", "Because of"}, Rows: rows}))
	require.Equal(t, "A: 2; all because of text", got.Rows[0].Head)
	require.Equal(t, []string{"2", ""}, got.Rows[1].Cells)
	require.Equal(t, "B: 2", got.Rows[2].Head)
	require.Equal(t, []string{"2", "policy"}, got.Rows[3].Cells)
	require.Len(t, got.Rows, 4)
	require.Empty(t, rows[0].Head, "the index keeps its rows as they are")
	require.Equal(t, "text", rows[0].Cells[1])
}
