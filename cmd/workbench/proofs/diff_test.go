package proofs

import (
	"bytes"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/opendatatest"
	"fingerproof/pipeline/4_services/compare"
)

// notPlanted are the kinds that no mutation makes: tests of the comparison itself hold them.
var notPlanted = []compare.Kind{
	compare.PieceMissing, compare.PieceAdded, compare.RepeatWrittenOut, compare.Barring, compare.Unison, compare.GraceSize,
	compare.MeasureNumber, compare.Unpitched, compare.Further,
}

// Every kind planted in real scores is told each time, and nothing else.
func TestPlantedDifferencesAreTold(t *testing.T) {
	var list strings.Builder
	tally := &mutating{
		sample: opendata.Sample{Shared: opendatatest.Folder(t), Scores: 6, Seed: 1}, rounds: 1, list: true,
		out: &list, kinds: map[compare.Kind]*[3]int{},
	}
	require.NoError(t, tally.sample.Each(tally.piece))
	for _, k := range compare.Kinds() {
		counts := tally.of(k)
		found, missed, invented := counts[0], counts[1], counts[2]
		if slices.Contains(notPlanted, k) {
			require.Zero(t, found+missed, "%s is planted, and stands among those that are not", k)
		} else {
			require.NotZero(t, found+missed, "%s is not planted in any of %d scores", k, tally.sample.Scores)
		}
		require.Zero(t, missed, "%s\n%s", k, &list)
		require.Zero(t, invented, "%s\n%s", k, &list)
	}
}

// Witnesses of one work find each other: nothing is left alone that has its
// equal within a quarter.
func TestWitnessesAreAligned(t *testing.T) {
	root := opendatatest.Folder(t)
	pairs, err := witnessPairs(filepath.Join(root, "data", "witnesses"))
	require.NoError(t, err)
	require.NotEmpty(t, pairs)
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
