package proofs

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendatatest"
)

// Every kind planted in real scores is told, and nothing else.
func TestPlantedDifferencesAreTold(t *testing.T) {
	root := opendatatest.Folder(t)
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
	root := opendatatest.Folder(t)
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
