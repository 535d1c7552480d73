package robustness

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/cmd/workbench/opendata"
	"fingerproof/cmd/workbench/opendatatest"
	"fingerproof/corpus/shared"
	"fingerproof/policies"
)

// travelsOnlyNearby holds edits to what `workbench travel` measures on all: what changes stands within a few measures
// of the edit, of a return, or of a figure whose digit was edited.
func travelsOnlyNearby(t *testing.T, files []string, policy *policies.Policy, rounds int) {
	t.Helper()
	m := travelling{sample: opendata.Sample{Seed: 7}, policy: policy, rounds: rounds}
	trips, err := m.all(files)
	require.NoError(t, err)
	require.Greater(t, len(trips), 3*len(files), "too few edits to say anything")
	moves, near := 0, 0
	for i := range trips {
		reach := trips[i].reach(movedFinger)
		require.LessOrEqual(t, reach, 8, "%s: %s at m. %s moves %s",
			trips[i].piece, trips[i].kind, trips[i].where, trips[i].farthest)
		if reach <= 2 {
			near++
		}
		moves += len(trips[i].moves)
	}
	require.Positive(t, moves, "edits change something")
	require.GreaterOrEqual(t, 100*near, 93*len(trips), "edits that move nothing farther than two measures")
}

func TestSmallChangesOfTheDemoHaveSmallEffects(t *testing.T) {
	var files []string
	for _, name := range []string{"op7-nocturne", "op12-2-waltz", "op3-1-scales", "op9-1-chorale"} {
		files = append(files, shared.InProject("corpus", "demo", "scores", name+".musicxml"))
	}
	performance, err := policies.Open("performance", ".")
	require.NoError(t, err)
	travelsOnlyNearby(t, files, performance, 2)
}

func TestSmallChangesOfRealScoresHaveSmallEffects(t *testing.T) {
	files := opendatatest.SmallScores(t, opendatatest.Choice{Of: 24, Most: 8, Bytes: 20_000})
	travelsOnlyNearby(t, files, policies.Default(), 1)
}

// Without memory of returns and figures the search alone carries a change: a few strokes.
func TestWithoutMemoryNothingTravels(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "policy.yaml")
	require.NoError(t, os.WriteFile(file, []byte("extends: default\naims: {memory: 0}\n"), 0o600))
	forgetful, err := policies.Open(file, ".")
	require.NoError(t, err)
	m := travelling{sample: opendata.Sample{Seed: 3}, policy: forgetful, rounds: 3}
	trips, err := m.all([]string{shared.InProject("corpus", "demo", "scores", "op12-2-waltz.musicxml")})
	require.NoError(t, err)
	for i := range trips {
		for _, m := range trips[i].moves {
			if m.what == movedFinger {
				require.LessOrEqual(t, m.fromEdit, 5, trips[i].farthest)
			}
		}
	}
}

func TestMeasuresToCountsFromWhereMeasuresWerePutIn(t *testing.T) {
	require.Equal(t, 0, measuresTo(places{2 * 4}, 4))
	require.Equal(t, 3, measuresTo(places{2 * 4}, 7))
	require.Equal(t, 1, measuresTo(places{2*4 + 1}, 4), "beside the place on either side")
	require.Equal(t, 1, measuresTo(places{2*4 + 1}, 5))
	require.Equal(t, 2, measuresTo(places{2*4 + 1, 2 * 20}, 6))
}
