package pipeline_test

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// A run for press asks what a plain run of the same state asks: the same passages with the same numbers, digits, findings and
// words of what lint would say; and prints nothing that the plain run does not print.
func TestForPressTheSameIsAsked(t *testing.T) {
	asked, left := 0, 0
	compare := func(t *testing.T, run func(press bool) *pipeline.PieceRun) {
		plain, press := run(false), run(true)
		require.Equal(t, plain.Open, press.Open)
		require.Equal(t, plain.Result.Findings, press.Result.Findings)
		want, got := review.All(plain.ReviewInput()), review.All(press.ReviewInput())
		require.Equal(t, want, got)
		asked += len(got)
		left += len(press.Open)
		for i, prints := range press.Print {
			require.False(t, prints && !plain.Print[i], "note %d prints for press alone", i)
		}
		for _, n := range press.Open {
			require.False(t, press.Print[n], "note %d is open and prints for press", n)
		}
	}
	for _, name := range []string{
		"chopin__067-1-sam-004", "clementim__o42-clementi-op42-lyt-l29-rameau", "polish__rozycki-ludomir-4-impromptus-op-6-2",
	} {
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(filepath.Join(shared.Folder(t, filepath.Join("data", "fingered")), name+".mxl"))
			require.NoError(t, err)
			for _, style := range []string{
				"extends: performance\n", "extends: study\n", "extends: sparse\n",
				"extends: performance\nsmaller_hand: octave\nbeside: {composer: saving, saving: 100}\nhand: tenth\n", // alternatives that nobody has decided
			} {
				policy, err := policies.Read("style", []byte(style))
				require.NoError(t, err)
				compare(t, func(press bool) *pipeline.PieceRun {
					w := &pipeline.PieceRun{
						Piece: &corpus.Piece{ID: name, Score: name + ".mxl", Scoring: corpus.TwoHands, TextDigits: "composer"}, Data: data,
						Policy: policy, Weights: pipeline.ShippedWeights(), Press: press,
					}
					require.NoError(t, pipeline.RunPiece(w))
					return w
				})
			}
		})
	}
	t.Run("demo", func(t *testing.T) {
		c, err := corpus.Open(shared.InProject("corpus", "demo"))
		require.NoError(t, err)
		for i := range c.Pieces {
			compare(t, func(press bool) *pipeline.PieceRun {
				job := pipeline.Job{Collection: c, Weights: pipeline.ShippedWeights(), Press: press,
					PolicyOf: func(*corpus.Piece) (*policies.Policy, error) { return policies.Default(), nil }}
				w, err := job.Work(&c.Pieces[i])
				require.NoError(t, err)
				return w
			})
		}
	})
	require.Positive(t, asked)
	require.Positive(t, left)
}
