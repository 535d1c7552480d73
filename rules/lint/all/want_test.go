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
	"fingerproof/pipeline/4_stages/05_decide"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"

	"github.com/stretchr/testify/assert"
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
		set := settings(string(data))
		w := &pipeline.PieceRun{
			Piece: &corpus.Piece{ID: name, Score: name, Scoring: corpus.TwoHands, TextDigits: set.first("digits")},
			Data:  data, Policy: policyOf(t, set.first("policy")), Weights: pipeline.ShippedWeights(),
		}
		w.Today = "2026-06-01"
		w.Decisions, err = decide.Read("testdata/decisions", name)
		require.NoError(t, err)
		require.NoError(t, pipeline.RunPiece(w), file)
		findings := w.Settled.Findings
		if set.more() {
			findings = lint.Run(filled(t, w, set), all.Rules(), nil)
		}
		for _, f := range findings {
			found = append(found, fmt.Sprintf("line %d: %s", f.Line, f.Rule))
		}
		slices.Sort(expected)
		slices.Sort(found)
		if !assert.Equal(t, expected, found, file) {
			continue
		}
	}
	for _, r := range all.Rules() {
		require.True(t, wanted[r.Name], "no test score wants %s", r.Name)
	}
}
