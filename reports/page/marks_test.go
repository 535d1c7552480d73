package page_test

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/pipeline"
	"fingerproof/policies"
	"fingerproof/reports/page"

	"github.com/stretchr/testify/require"
)

// No two passages of a piece keep their decision in one place, also where no digit of them prints: one would be lost.
func TestEachPassageKeepsItsOwnDecision(t *testing.T) {
	check := func(w *pipeline.PieceRun) (passages int) {
		html, err := page.Piece(page.Of(w, "marks"))
		require.NoError(t, err)
		seen := map[string]bool{}
		for _, mark := range regexp.MustCompile(`"mark":"([0-9a-f]+)"`).FindAllSubmatch(html, -1) {
			require.False(t, seen[string(mark[1])], "%s: two passages with one mark", w.Piece.ID)
			seen[string(mark[1])] = true
		}
		return len(seen)
	}
	for _, id := range []string{"op7-nocturne", "op12-1-barcarolle", "op9-3-romance", "op3-1-scales"} {
		require.Positive(t, check(demoRun(t, id)))
	}
	const name = "polish__anonim-menuet-z-wariacjami"
	data, err := os.ReadFile(filepath.Join(shared.Folder(t, filepath.Join("data", "repertoire")), name+".mxl"))
	require.NoError(t, err)
	study, err := policies.Open("study", ".") // it does not print every digit
	require.NoError(t, err)
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: name, Score: name + ".mxl", Scoring: corpus.TwoHands}, Data: data,
		Policy: study, Weights: pipeline.ShippedWeights(),
	}
	require.NoError(t, pipeline.RunPiece(w))
	require.Greater(t, check(w), 100)
}
