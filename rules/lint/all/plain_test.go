package all_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

// Messages are read by editors, in viewers that show signs of Markdown and line breaks as they are: one line, plain words,
// no full stop, and none of the engine's own words (regret, lattice, node …) nor others than the house's (bar, layer).
func TestMessagesArePlain(t *testing.T) {
	jargon := regexp.MustCompile(`(?i)\b(regret|lattice|node|null|nil|index|array|struct|midi|bar|bars|layer|layers|xml|nats?)\b`)
	files, err := filepath.Glob("testdata/*.musicxml")
	require.NoError(t, err)
	seen := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		name := filepath.Base(file)
		w := &pipeline.PieceRun{Piece: &corpus.Piece{ID: name, Score: name, Scoring: corpus.TwoHands}, Data: data, Policy: policies.Default(), Weights: pipeline.ShippedWeights()}
		require.NoError(t, pipeline.RunPiece(w), file)
		for _, f := range w.Result.Findings {
			seen++
			require.NotContains(t, f.Message, "\n")
			require.NotContains(t, f.Fix, "\n")
			text := f.Advice()
			require.Less(t, len([]rune(text)), 280, text)
			require.False(t, strings.HasSuffix(text, "."), text)
			require.NotRegexp(t, "[*`_<>{}]|  ", text)
			require.NotRegexp(t, jargon, text)
			require.Regexp(t, `^m\. \S+(, (right|left) hand)?(, beat \S+)?: \S`, text)
		}
	}
	require.Greater(t, seen, 5, "the scores said too little to mean anything")
}
