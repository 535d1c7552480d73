package findings

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/opendatatest"
)

// A sample of what `workbench known-again` measures: an engraver's habits make no finding a new one, and a measure
// that is put in or cut makes none of those elsewhere.
func TestFindingsAreKnownAgainInRealScores(t *testing.T) {
	files, err := opendata.Scores(opendatatest.Folder(t), 40)
	require.NoError(t, err)
	tally := newKnownAgainTally()
	require.NoError(t, opendata.EachFile(files, 3, tally.score))
	for v, n := range tally.counts {
		require.Greater(t, n.same, 50, "%s: too few findings to say anything", versions[v].name)
		// A return compared with another of its kind stands at other notes, and is the same finding for all that.
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
