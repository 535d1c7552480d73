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
	"fingerproof/pipeline/3_records/decision"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Expectations stand inside the test scores: a comment `want SEVERITY RULE: TEXT` in the line in which the finding
// stands, one for each finding; above the list of parts for a finding that stands nowhere in the score. TEXT is the
// whole message and, after a semicolon, what puts it right, as a report prints them. What is not wanted must not be
// found.
var want = regexp.MustCompile(`<!-- want (note|warning|error) ([a-z-]+): (.+?) -->`)

// expectation is one finding that a test score wants.
type expectation struct {
	line                 int
	severity, rule, text string
}

func (e expectation) String() string {
	return fmt.Sprintf("line %d: <!-- want %s %s: %s -->", e.line, e.severity, e.rule, e.text)
}

// testScores lists the test scores, sorted by name. There are some.
func testScores(t *testing.T) []string {
	files, err := filepath.Glob("testdata/*.musicxml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	return files
}

// expectations reads what a test score wants.
func expectations(t *testing.T, file string) (out []expectation) {
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	music := false
	for i, line := range strings.Split(string(data), "\n") {
		music = music || strings.HasPrefix(line, "<part-list")
		found := want.FindAllStringSubmatch(line, -1)
		require.Len(
			t, found, strings.Count(line, "<!-- want"), "%s:%d: an expectation reads `want SEVERITY RULE: TEXT`", file,
			i+1,
		)
		for _, m := range found {
			e := expectation{i + 1, m[1], m[2], m[3]}
			if !music {
				e.line = 0
			}
			out = append(out, e)
		}
	}
	return out
}

// runOf runs a test score under the settings that stand in it, which it gives too.
func runOf(t *testing.T, file string) (*pipeline.PieceRun, set) {
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	name := filepath.Base(file)
	set := settings(string(data))
	require.Contains(t, []string{"", "composer", "earlier", "editor"}, set.first("digits"), file)
	require.Contains(t, corpus.Scorings(), set.scoring(), file)
	w := &pipeline.PieceRun{
		Piece: &corpus.Piece{ID: name, Score: name, Scoring: set.scoring(), TextDigits: set.first("digits")},
		Data:  data, Policy: policyOf(t, set.first("policy")), Weights: pipeline.ShippedWeights(),
	}
	w.Today = "2026-06-01"
	w.Decisions, err = decision.Read("testdata/decisions", name)
	require.NoError(t, err)
	require.NoError(t, pipeline.RunPiece(w), file)
	return w, set
}

// linted gives what lint finds in a test score.
func linted(t *testing.T, file string) []lint.Finding {
	w, set := runOf(t, file)
	if set.more() {
		return lint.Run(filled(t, w, set), all.Rules(), nil)
	}
	return w.Remaining
}

// Every rule has something it reports in the scores, and something close by that it leaves alone.
func TestRulesFindWhatTheScoresWant(t *testing.T) {
	wanted := map[string]bool{}
	for _, file := range testScores(t) {
		var expected, found []string
		for _, e := range expectations(t, file) {
			expected = append(expected, e.String())
			wanted[e.rule] = true
		}
		for _, f := range linted(t, file) {
			found = append(found, expectation{f.Line, f.Severity.String(), f.Rule, textOf(f)}.String())
		}
		slices.Sort(expected)
		slices.Sort(found)
		assert.Equal(t, expected, found, file)
	}
	for _, r := range all.Rules() {
		assert.True(t, wanted[r.Name], "no score of testdata/ says <!-- want %s %s: MESSAGE; FIX --> in a line", r.Severity, r.Name)
	}
}

// textOf is what a report prints of a finding, without the place.
func textOf(f lint.Finding) string {
	if f.Fix == "" {
		return f.Message
	}
	return f.Message + "; " + f.Fix
}
