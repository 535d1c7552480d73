package hands

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/policies"
)

// Pieces of study books that are easy by what stands on the page get no redistribution, but for one: a rondo of 248 measures
// whose source prints notes of one hand on the other's staff, which the file no longer tells.
func TestEasyStudyPiecesGetNone(t *testing.T) {
	c, err := corpus.Open(shared.Folder(t, "data/fingered"))
	require.NoError(t, err)
	index, err := opendata.ReadTable(c.Path("INDEX.tsv"))
	require.NoError(t, err)
	study := map[string]bool{}
	for _, row := range index {
		switch row["composer"] {
		case "Czerny", "Hanon", "Diabelli", "Clementi": // the books of studies and lessons in the folder
			study[row["piece"]] = true
		}
	}
	looked, simple := 0, 0
	var some []string
	for i := range c.Pieces {
		if !study[c.Pieces[i].ID] {
			continue
		}
		looked++
		w, err := openWay(c, &c.Pieces[i], policies.Default())
		require.NoError(t, err)
		for _, s := range pipeline.Stages {
			require.NoError(t, s.Run(w))
			if s.Name == "redistribute" {
				break
			}
		}
		if easy(w) {
			simple++
			if len(w.Redistributions) > 0 {
				some = append(some, w.Piece.ID)
			}
		}
	}
	require.Greater(t, looked, 100)
	require.Greater(t, simple, 40)
	require.Equal(t, []string{"clementim__o42-clementi-op42-lyt-l42-cpebach"}, some)
	t.Logf("%d easy pieces of %d", simple, looked)
}
