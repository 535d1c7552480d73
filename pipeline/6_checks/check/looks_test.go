package check_test

import (
	"os"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/6_checks/check"

	"github.com/stretchr/testify/require"
)

// A house style that prints every page otherwise is a change, though no finger moves: each key is told that does so, and no
// other.
func TestWhatPrintsOtherwiseIsToldByKey(t *testing.T) {
	in := demo(t, "op12-2-waltz")
	in.policy = style(t, "marks: {legend: title}\n")
	was := stateOf(work(t, in))
	in.policy = style(t, "language: de\nmarks: {legend: title, placement: engraver, layers: levels}\nredistribute: {per_page: 50}\n")
	p := check.Compare(work(t, in), was, in.data)
	got := map[string]string{}
	for i := range p.Changes {
		require.Equal(t, check.Looks, p.Changes[i].Kind, p.Changes[i].Sentence())
		got[p.Changes[i].Pitch] = p.Changes[i].Cause
	}
	require.Equal(t, map[string]string{
		"language": "policy: language", "marks.layers": "policy: marks.layers", "marks.placement": "policy: marks.placement",
	}, got)
}

// What stands around the composer's digits that a single witness has is a look as well.
func TestWhatStandsAroundASingleWitnesssDigitsIsTold(t *testing.T) {
	in := demo(t, "op9-1-chorale")
	data, err := os.ReadFile(shared.InProject("corpus", "demo", "witnesses", "op9-1-chorale.A.musicxml"))
	require.NoError(t, err)
	run := func(text string) *pipeline.PieceRun {
		w := &pipeline.PieceRun{
			Piece: &corpus.Piece{
				ID: in.piece.ID, Score: in.piece.Score, Scoring: corpus.TwoHands,
				Witnesses: []corpus.Witness{{Siglum: "A", Score: "A.musicxml", Numbering: "modern", Responsibility: "composer"}},
			},
			Data: in.data, WitnessData: [][]byte{data}, Policy: style(t, text), Weights: pipeline.ShippedWeights(), Today: today,
		}
		require.NoError(t, pipeline.RunPiece(w))
		return w
	}
	was := stateOf(run("extends: performance\nwitness: {prints: composer}\n"))
	p := check.Compare(run("extends: performance\nwitness: {prints: composer, single: parentheses}\n"), was, in.data)
	require.Len(t, p.Changes, 1)
	require.Equal(t, check.Looks, p.Changes[0].Kind)
	require.Equal(t, "policy: witness.single", p.Changes[0].Cause)
}
