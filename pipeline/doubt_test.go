package pipeline_test

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/review"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// A passage that is said to be without doubt holds no digit that is in doubt anywhere: none that is little sure, that another
// passage asks as a doubt, that is read from digits piled elsewhere, or beside which another finger is called as likely. And
// whatever is little sure is asked as a doubt, or decided with a passage that it brings back.
func TestNothingWithoutDoubtIsInDoubtElsewhere(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(shared.Folder(t, filepath.Join("data", "fingered")), "*.mxl"))
	require.NoError(t, err)
	firm, doubts := 0, 0
	for i, file := range files {
		if i%12 != 0 {
			continue
		}
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		w := &pipeline.PieceRun{
			Piece: &corpus.Piece{ID: "piece", Score: filepath.Base(file), Scoring: corpus.TwoHands, TextDigits: "composer"}, Data: data,
			Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
		}
		if pipeline.RunPiece(w) != nil {
			continue // another scoring than two hands
		}
		at := w.Result.ByNumber()
		passages := review.All(w.ReviewInput())
		asked, with := map[int]bool{}, map[int]bool{} // as a doubt; decided with where it stood before
		for _, p := range passages {
			for _, n := range p.Doubts {
				asked[n] = true
				doubts++
			}
			for _, g := range p.Goes {
				for _, pair := range g.Notes {
					with[pair[1]] = true
				}
			}
		}
		for _, p := range passages {
			if !p.Firm {
				continue
			}
			require.Empty(t, p.Doubts)
			require.Empty(t, p.IfTaken)
			for _, n := range p.Notes {
				e := at.Of(n)
				if e.Confidence == nil {
					continue
				}
				firm++
				place := []any{"%s: m. %s, %s, beat %s, %s: %d", filepath.Base(file), e.Measure, e.Hand.Words(), e.Onset, e.Pitch, e.Finger}
				require.GreaterOrEqual(t, int(*e.Confidence), review.RealDoubt, place...)
				require.False(t, asked[n], place...)
				require.False(t, review.AgainstGiven(e) || e.Piled != "", place...)
				for _, a := range e.Alternatives {
					require.NotEqual(t, "as likely", wording.AsLikely(a.Regret), place...)
				}
			}
		}
		for i := range w.Result.Notes {
			if e := &w.Result.Notes[i]; e.Confidence != nil && !e.Tied && int(*e.Confidence) < review.RealDoubt {
				require.True(t, asked[e.N] || with[e.N], "%s: m. %s, %s, %s is little sure and nobody is asked", filepath.Base(file), e.Measure, e.Hand.Words(), e.Pitch)
			}
		}
	}
	require.Positive(t, firm)
	require.Positive(t, doubts)
}
