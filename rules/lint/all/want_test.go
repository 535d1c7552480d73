package all_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/pipeline/decide"
	"fingerproof/policies"
	"fingerproof/rules/lint/all"

	"github.com/stretchr/testify/require"
)

var want = regexp.MustCompile(`<!-- want ([a-z-]+) -->`)

// Expectations stand inside the test scores: a comment `want RULE` in the line
// in which the finding stands, one for each finding. What is not wanted must
// not be found. Every rule has a score named after it, with something it
// reports and something close by that it leaves alone.
func TestRulesFindWhatTheScoresWant(t *testing.T) {
	wanted := map[string]bool{}
	files, err := filepath.Glob("testdata/*.musicxml")
	require.NoError(t, err)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		var expected, found []string
		for i, line := range strings.Split(string(data), "\n") {
			for _, m := range want.FindAllStringSubmatch(line, -1) {
				expected = append(expected, fmt.Sprintf("line %d: %s", i+1, m[1]))
				wanted[m[1]] = true
			}
		}
		name := filepath.Base(file)
		w := &pipeline.Way{
			Piece: &corpus.Piece{ID: name, Score: name, Scoring: corpus.TwoHands},
			Data:  data, Policy: policies.Default(), Weights: pipeline.ShippedWeights(),
		}
		w.Today = "2026-06-01"
		w.Decisions, err = decide.Read("testdata/decisions", name)
		require.NoError(t, err)
		require.NoError(t, pipeline.RunPiece(w), file)
		for _, f := range w.Settled.Findings {
			found = append(found, fmt.Sprintf("line %d: %s", f.Line, f.Rule))
		}
		slices.Sort(expected)
		slices.Sort(found)
		require.Equal(t, expected, found, file)
	}
	for _, r := range all.Rules() {
		require.True(t, wanted[r.Name], "no test score wants %s", r.Name)
	}
}
