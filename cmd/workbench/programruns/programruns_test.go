package programruns

import (
	"context"
	"io"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/policies"
)

func TestUpToStopsAfterTheStageNamed(t *testing.T) {
	path := shared.InProject("corpus", "demo", "scores", "op3-1-scales.musicxml")
	w := OfFile(path, policies.Default())
	require.NoError(t, UpTo(w, "suggest"))
	require.NotNil(t, w.Suggestion)
	require.Nil(t, w.Print, "thinning comes later")
	require.ErrorContains(t, UpTo(OfFile(path, policies.Default()), "polish"), `no stage "polish"`)
}

// A piece of a collection comes out as it does alone.
func TestACollectionIsWorkedOnInItsOrder(t *testing.T) {
	c, err := corpus.Open(shared.InProject("corpus", "demo", "scores"))
	require.NoError(t, err)
	c.Pieces = c.Pieces[:3]
	var got []*pipeline.PieceRun
	keep := func(w *pipeline.PieceRun) { got = append(got, w) }
	err = OfCollection(context.Background(), io.Discard, c, policies.Default(), keep)
	require.NoError(t, err)
	require.Len(t, got, 3)
	for i, w := range got {
		require.Equal(t, c.Pieces[i].ID, w.Piece.ID)
		alone, err := OfPiece(c, &c.Pieces[i], policies.Default())
		require.NoError(t, err)
		require.NoError(t, pipeline.RunPiece(alone))
		require.Equal(t, alone.Suggestion.Notes, w.Suggestion.Notes)
	}
}
