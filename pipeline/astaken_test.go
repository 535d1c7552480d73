package pipeline_test

import (
	"bytes"
	"os"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// What a page shows of an edition for press as taken has as many digits as the edition that prints open ones, and the edition
// itself is left alone.
func TestAnEditionForPressAsTakenHasTheOpenDigits(t *testing.T) {
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", "op7-nocturne.musicxml"))
	require.NoError(t, err)
	run := func(press bool) *pipeline.PieceRun {
		w := &pipeline.PieceRun{
			Piece: &corpus.Piece{ID: "a", Score: "a.musicxml", Scoring: corpus.TwoHands}, Data: data, Press: press,
			Policy: policies.Default(), Weights: pipeline.ShippedWeights(), Edition: "a.musicxml",
		}
		require.NoError(t, pipeline.RunPiece(w))
		return w
	}
	digits := func(edition []byte) int { return bytes.Count(edition, []byte("<fingering")) }
	press, open := run(true), run(false)
	require.NotEmpty(t, press.Open)
	before := bytes.Clone(press.EditionData)
	taken, occurs, err := pipeline.AsTaken(press)
	require.NoError(t, err)
	require.NotNil(t, occurs)
	require.Equal(t, digits(open.EditionData), digits(taken))
	require.Equal(t, digits(press.EditionData)+len(press.Open), digits(taken))
	require.Equal(t, before, press.EditionData)
}
