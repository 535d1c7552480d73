package all_test

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fingerproof/policies"
	"fingerproof/rules/lint"
	"fingerproof/rules/lint/all"

	"github.com/stretchr/testify/require"
)

// A rule without its documentation, or two of one name, must not get in.
func TestRegistryRefusesUndocumentedRules(t *testing.T) {
	kebab := regexp.MustCompile(`^[a-z]+(-[a-z]+)+$`)
	var names []string
	for _, r := range all.Rules() {
		names = append(names, r.Name)
		require.Regexp(t, kebab, r.Name)
		require.NotEqual(t, lint.Off, r.Severity, r.Name)
		require.NotNil(t, r.Run, r.Name)
		require.Regexp(t, `^\d+\.\d+$`, r.Since, r.Name)
		require.False(t, strings.HasSuffix(r.Title, "."), "%s: a title is no sentence", r.Name)
		for what, text := range map[string]string{
			"title": r.Title, "checks": r.Checks, "why": r.Why, "before": r.Before, "after": r.After,
		} {
			require.Greater(t, len(text), 10, "%s: %s", r.Name, what)
			require.NotContains(t, text, "\n", "%s: %s", r.Name, what)
		}
		require.NotEqual(t, r.Before, r.After, r.Name)
	}
	keys := map[string]bool{}
	for _, k := range policies.Keys() {
		keys[k.Path] = true
	}
	for _, r := range all.Rules() {
		for _, option := range r.Options {
			require.True(t, keys[option], "%s: the policy has no key %s", r.Name, option)
		}
	}
	require.True(t, slices.IsSorted(names), "%v", names)
	require.Len(t, slices.Compact(slices.Clone(names)), len(names))
}

// Each rule has a folder of its own that bears its name, and stands in rule.go there; what rules share stands in lint
// itself.
func TestFoldersBearTheRulesNames(t *testing.T) {
	files, err := filepath.Glob("../*/*.go")
	require.NoError(t, err)
	var folders, names []string
	for _, file := range files {
		if folder := filepath.Base(filepath.Dir(file)); folder != "all" && filepath.Base(file) == "rule.go" {
			folders = append(folders, folder)
		}
	}
	for _, r := range all.Rules() {
		names = append(names, r.Name)
	}
	require.Equal(t, names, folders)
	for _, file := range files {
		folder := filepath.Base(filepath.Dir(file))
		require.True(t, folder == "all" || slices.Contains(names, folder), "%s lies in no rule's folder", file)
	}
}

// What `explain` says of the severities of a rule holds of what it reports: nothing is milder.
func TestRulesReportNothingMilderThanTheySay(t *testing.T) {
	for _, file := range testScores(t) {
		for _, f := range linted(t, file) {
			r := all.Rule(f.Rule)
			want := r.Severity
			if r.Mildest != lint.Off {
				want = r.Mildest
			}
			require.GreaterOrEqual(t, f.Severity, want, "%s: %s", file, f.Rule)
		}
	}
	for _, r := range all.Rules() {
		require.Less(t, r.Mildest, r.Severity, r.Name)
	}
}
