package pipeline

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/policies"

	"github.com/stretchr/testify/require"
)

func demoJob(t *testing.T, workers int) Job {
	t.Helper()
	c, err := corpus.Open(shared.InProject("corpus", "demo"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(c.Pieces), 12)
	return Job{Collection: c, Weights: ShippedWeights(), Workers: workers, Edition: true,
		PolicyOf: func(*corpus.Piece) (*policies.Policy, error) { return policies.Default(), nil }}
}

// outcome is everything a run leaves behind, in its order.
func outcome(t *testing.T, job Job) []byte {
	t.Helper()
	var all bytes.Buffer
	require.NoError(t, Run(context.Background(), job, func(w *PieceRun, failed error) error {
		require.NoError(t, failed)
		data, err := state.Encode(w.Result)
		require.NoError(t, err)
		all.Write(data)
		all.Write(w.EditionData)
		return nil
	}))
	return all.Bytes()
}

func TestSameBytesForAnyNumberOfWorkersAndProcessors(t *testing.T) {
	want := outcome(t, demoJob(t, 1))
	require.Equal(t, want, outcome(t, demoJob(t, 7)))
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	require.Equal(t, want, outcome(t, demoJob(t, 3)))
}

func TestTakingTheEditsBackGivesTheSource(t *testing.T) {
	require.NoError(t, Run(context.Background(), demoJob(t, 2), func(w *PieceRun, failed error) error {
		require.NoError(t, failed)
		require.NotEqual(t, w.Data, w.EditionData)
		back, err := source.TakeBack(w.EditionData, w.Record, source.DefaultLimits())
		require.NoError(t, err)
		require.True(t, bytes.Equal(w.Data, back), w.Piece.ID)
		return nil
	}))
}

func TestAFailedPieceIsNamedAndTheOthersGoOn(t *testing.T) {
	dir := t.TempDir()
	good, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", "op9-3-romance.musicxml"))
	require.NoError(t, err)
	for name, data := range map[string][]byte{"a.musicxml": good, "b.musicxml": good[:len(good)/2], "c.musicxml": good} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o644))
	}
	job := demoJob(t, 3)
	job.Collection, err = corpus.Open(dir)
	require.NoError(t, err)
	var seen []string
	require.NoError(t, Run(context.Background(), job, func(w *PieceRun, failed error) error {
		seen = append(seen, w.Piece.ID)
		if w.Piece.ID == "b" {
			require.ErrorContains(t, failed, "b.musicxml:")
			require.ErrorContains(t, failed, "cut off")
			return nil
		}
		require.NoError(t, failed)
		return nil
	}))
	require.Equal(t, []string{"a", "b", "c"}, seen)
}

func TestRunStopsWhenToldTo(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	done := 0
	err := Run(ctx, demoJob(t, 2), func(*PieceRun, error) error {
		done++
		cancel()
		return nil
	})
	require.ErrorIs(t, err, context.Canceled)
	require.Less(t, done, 12)

	broken := errors.New("disk full")
	err = Run(context.Background(), demoJob(t, 2), func(*PieceRun, error) error { return broken })
	require.ErrorIs(t, err, broken)
}
