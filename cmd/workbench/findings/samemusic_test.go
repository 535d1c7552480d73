package findings

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/opendatatest"
	"fingerproof/cmd/workbench/programruns"
	"fingerproof/corpus/shared"
	"fingerproof/policies"
)

// The same page gives the same findings, whatever became of the record in its head.
func TestTheSameMusicGivesTheSameFindings(t *testing.T) {
	demo, err := opendata.EveryNth(shared.InProject("corpus", "demo", "scores"), 1)
	require.NoError(t, err)
	tally := &sameMusicTally{out: os.Stdout, list: true}
	require.NoError(t, tally.collection(demo))
	require.Equal(t, 14, tally.editions)
	require.Greater(t, tally.findings, 20, "too few findings to say anything")
	require.Zero(t, tally.differ)
}

func TestTheSameMusicGivesTheSameFindingsInRealScores(t *testing.T) {
	tally := &sameMusicTally{out: os.Stdout, list: true}
	for _, file := range opendatatest.SmallScores(t, opendatatest.Choice{Of: 40, Most: 6, Bytes: 20_000}) {
		w := programruns.OfFile(file, policies.Default())
		w.Piece.ID = filepath.Base(file)
		require.NoError(t, tally.piece(w))
	}
	require.Greater(t, tally.findings, 5, "too few findings to say anything")
	require.Zero(t, tally.differ)
}
