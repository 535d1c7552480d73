package findings

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
)

// A sample of what `workbench known-again` measures: an engraver's habits make no finding a new one, and a measure that is put in
// or cut makes none of those elsewhere.
func TestFindingsAreKnownAgainInRealScores(t *testing.T) {
	root := opendata.TestFolder(t)
	files, err := opendata.Scores(root, 40)
	require.NoError(t, err)
	tally := &knownAgainTally{counts: make([]knownAgainCount, len(versions))}
	for i, file := range files[:12] {
		require.NoError(t, tally.piece(file, rand.New(rand.NewPCG(3, uint64(i)))))
	}
	for v, n := range tally.counts {
		require.Greater(t, n.same, 50, "%s: too few findings to say anything", versions[v].name)
		// A return compared with another of its kind is told at other notes, and is the same finding for all that.
		require.LessOrEqual(t, n.mistaken, 1, versions[v].name)
		if v == 0 {
			require.Equal(t, n.same, n.known, versions[v].name)
		}
		least := 97
		if len(versions[v].changes) > 1 { // moved and corrected at once, a finding loses both its marks
			least = 90
		}
		require.GreaterOrEqual(t, 100*n.known, least*n.same, versions[v].name)
	}
}
