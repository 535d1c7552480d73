package page

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/score"
	"fingerproof/pipeline/3_records/state"
)

// The places of a group are the measures of each hand, each once though the findings of both hands come mixed; what is not named
// is counted in measures.
func TestPlacesOfAGroupAreMeasuresOnce(t *testing.T) {
	var found []state.Finding
	for measure := range 9 {
		for _, hand := range []score.Hand{score.Right, score.Left, score.Right} {
			found = append(found, state.Finding{Measure: strconv.Itoa(measure + 1), MeasureIndex: measure, Hand: hand})
		}
	}
	require.Equal(t, "m. 1 right, m. 1 left, m. 2 right, m. 2 left", placesOf(found[:6]))
	require.Equal(t, "m. 1 right, m. 1 left, m. 2 right, m. 2 left, m. 3 right, m. 3 left, m. 4 right, m. 4 left, m. 5 right, m. 5 left, "+
		"m. 6 right, m. 6 left, and 3 measures more", placesOf(found))
	require.Contains(t, placesOf(found[:21]), "and 1 measure more")
}

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
