package pipeline_test

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/score"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// On a real score whose left hand has digits in m. 2 that no hand can pass under their slur: like measures are not fingered so. And
// no silent change of finger is suggested to the finger itself, nor on two keys of a chord at once.
func TestWhatNoHandCanPassIsNoModel(t *testing.T) {
	const name = "polish__rozycki-ludomir-4-impromptus-op-6-2"
	data, err := os.ReadFile(filepath.Join(shared.Folder(t, filepath.Join("data", "fingered")), name+".mxl"))
	if os.IsNotExist(err) {
		t.Skip("the score is not in the shared folder")
	}
	require.NoError(t, err)
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: name, Score: name + ".mxl", Scoring: corpus.TwoHands, TextDigits: "earlier"}, Data: data,
		Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
	}
	require.NoError(t, pipeline.RunUntil(w, "beside"))
	fingers := map[string][]int{}
	for l := range w.Playing.Lines {
		if w.Playing.Lines[l].Hand != score.Left {
			continue
		}
		for _, st := range w.Playing.Lines[l].Strokes {
			measure, changes := w.Score.Measures[w.Score.Notes[st.Notes[0]].Measure].Number, 0
			for _, n := range st.Notes {
				s := &w.Suggestion.Notes[n]
				fingers[measure] = append(fingers[measure], int(s.Finger))
				require.NotEqual(t, s.Finger, s.Substitution, "m. %s", measure)
				if s.Substitution > 0 {
					changes++
				}
			}
			require.LessOrEqual(t, changes, 1, "m. %s", measure)
		}
	}
	require.Equal(t, []int{1, 2, 5}, fingers["2"][:3], "the text's")
	for _, like := range []string{"6", "8", "10", "12", "16"} {
		require.Equal(t, []int{5, 2, 1}, fingers[like][:3], "m. %s", like)
	}
}
