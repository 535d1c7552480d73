package main

import (
	"os"
	"path/filepath"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/stretchr/testify/require"
)

// A redistribution that was decided gets its sign where the policy asks for signs; lint misses none then, and marking
// the edition again changes nothing.
func TestADecidedRedistributionIsSigned(t *testing.T) {
	const name = "op12-4-country-dance.musicxml"
	score, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", name))
	require.NoError(t, err)
	edition := func(text []byte) []byte {
		t.Helper()
		root := t.TempDir()
		for file, content := range map[string]string{
			name: string(text), "policy.yaml": "extends: performance\nredistribute: {marks: sign}\n",
			"decisions/op12-4-country-dance.AB.yaml": "piece: op12-4-country-dance\nby: AB\ndecisions:\n  - {take: redistribution, when: 2026-03-01, to: L, notes: [{measure: 24, onset: 0, pitch: G4, finger: 1}]}\n",
		} {
			require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(root, file)), 0o755))
			require.NoError(t, os.WriteFile(filepath.Join(root, file), []byte(content), 0o644))
		}
		status, _, said := command("run", root, "--excerpts", "0", "--out", filepath.Join(root, "out"))
		require.Equal(t, exitClean, status, said)
		require.NotContains(t, said, "warning")
		marked, err := os.ReadFile(filepath.Join(root, "out", "edition", name))
		require.NoError(t, err)
		return marked
	}
	marked := edition(score)
	require.Contains(t, string(marked), ">[m.s.]</words>") // as the legend shows signs of the edition
	require.Equal(t, string(marked), string(edition(marked)))
}
