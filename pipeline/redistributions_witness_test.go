package pipeline

import (
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// An offer that repeats what a witness has as a sign names that witness; where the text itself has a sign nothing
// is offered.
func TestAnOfferNamesTheWitnessWhoseSignItRepeats(t *testing.T) {
	staged := stagedTrouble{Right: "G4/1", Right2: "r/2 B5/4 D6", Left: "G2+D3/4 r r/2"}
	signed := staged
	signed.Right2 = "r/2 !m.g. B5/4 D6"
	run := func(text stagedTrouble, witness *stagedTrouble) *PieceRun {
		w := &PieceRun{
			Piece: &corpus.Piece{
				ID: "staged", Score: "staged.musicxml", Scoring: corpus.TwoHands,
			}, Data: stagedScore(t, text),
			Policy: policies.Default(), Weights: ShippedWeights(),
		}
		if witness != nil {
			w.Piece.Witnesses = []corpus.Witness{{Siglum: "K", Score: "witness.musicxml", Responsibility: "composer"}}
			w.WitnessData = [][]byte{stagedScore(t, *witness)}
		}
		require.NoError(t, RunPiece(w))
		return w
	}
	const want = `Witness K gives it so, by its sign "m.g."`
	w := run(staged, &signed)
	require.Equal(t, "L crossing B5@2 D6@3", offered(w))
	require.Contains(t, w.Redistributions[0].Why, want)
	w = run(staged, &staged)
	require.Equal(t, "L crossing B5@2 D6@3", offered(w))
	require.False(t, strings.Contains(w.Redistributions[0].Why, "Witness"))
	require.Equal(t, "no", offered(run(signed, &staged)), "the text has its sign")
}
