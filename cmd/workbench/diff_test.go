package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fingerproof/corpus/shared"

	"github.com/stretchr/testify/require"
)

// sharedRoot is the folder of shared material; the test is skipped without it.
func sharedRoot(t *testing.T) string {
	t.Helper()
	return filepath.Dir(shared.Folder(t, "data"))
}

// smallScores gives, of so many scores that are drawn from the shared material, the first with fewer bytes than size, at most most.
func smallScores(t *testing.T, of, most int, size int64) (out []string) {
	t.Helper()
	material, err := mutationMaterial(sharedRoot(t), of)
	require.NoError(t, err)
	for _, f := range material {
		if info, err := os.Stat(f); err == nil && info.Size() < size && len(out) < most {
			out = append(out, f)
		}
	}
	return out
}

// Every kind planted in real scores is told, and nothing else.
func TestPlantedDifferencesAreTold(t *testing.T) {
	root := sharedRoot(t)
	c := mutateCommand()
	var out bytes.Buffer
	c.SetOut(&out)
	c.SetArgs([]string{"--shared", root, "--scores", "6", "--rounds", "1", "--list"})
	require.NoError(t, c.Execute())
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	for _, line := range lines[len(lines)-10:] {
		cells := strings.Fields(line)
		if len(cells) == 6 && cells[0] != "kind" {
			require.GreaterOrEqual(t, cells[4], "0.9800", "precision\n%s", out.String())
			require.GreaterOrEqual(t, cells[5], "0.9800", "recall\n%s", out.String())
		}
	}
}

// Witnesses of one work find each other: nothing is left alone that has its
// equal within a quarter.
func TestWitnessesAreAligned(t *testing.T) {
	root := sharedRoot(t)
	pairs, err := witnessPairs(filepath.Join(root, "data", "witnesses"))
	require.NoError(t, err)
	c := alignWitnessesCommand()
	var out bytes.Buffer
	c.SetOut(&out)
	c.SetArgs([]string{"--shared", root})
	require.NoError(t, c.Execute())
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")[1:]
	require.Len(t, lines, len(pairs))
	for _, line := range lines {
		require.Contains(t, line, "overlooked 0 ", line)
		require.GreaterOrEqual(t, strings.Fields(line)[4], "0.99", line)
	}
}

// A score that a converter read and wrote differs in little: two that it is
// known to bring back whole.
func TestRoundTripTellsNothingNew(t *testing.T) {
	root := sharedRoot(t)
	if _, err := exec.LookPath("musescore3"); err != nil {
		t.Skip("the converter musescore3 (Debian's package of that name) is not installed")
	}
	for _, name := range []string{"bachjs__bwv817-bach-french-suite-6-polonaise.mxl", "clementim__o42-clementi-op42-lyt-l22-arietta.mxl"} {
		p, err := roundTrip(t.Context(), "musescore3", t.TempDir(), filepath.Join(root, "data", "fingered", name))
		require.NoError(t, err)
		require.Empty(t, p.Changes, name)
	}
}
