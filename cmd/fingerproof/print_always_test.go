package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"fingerproof/corpus/shared"
	"fingerproof/pipeline/3_records/state"
)

// A digit that was taken is printed where a reader needs it; one that is to be printed always, everywhere, be the
// style ever so sparse.
func TestADecidedDigitCanBePrintedAlways(t *testing.T) {
	const id = "op3-1-scales"
	root := t.TempDir()
	score, err := os.ReadFile(shared.InProject("corpus", "demo", "scores", id+".musicxml"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(root, id+".musicxml"), score, 0o644))
	work := func() *state.Result {
		t.Helper()
		status, _, said := command("run", root, "--policy", "sparse", "--excerpts", "0", "--fail-on", "never", "--out", filepath.Join(root, "out"))
		require.Equal(t, exitClean, status, said)
		data, err := os.ReadFile(filepath.Join(root, "out", "results", id+".json"))
		require.NoError(t, err)
		r, err := state.Decode(data)
		require.NoError(t, err)
		return r
	}
	before := work()
	measure := ""
	var silent []int
	for i := range before.Notes { // a measure of the right hand with notes that need no digit
		n := &before.Notes[i]
		if n.Hand.String() != "R" || n.Tied || n.Printed || len(n.Source) > 0 || n.Finger == 0 {
			continue
		}
		if measure == "" {
			measure = n.Measure
		}
		if n.Measure == measure {
			silent = append(silent, n.N)
		}
	}
	require.NotEmpty(t, silent)
	enter := func(line string) {
		t.Helper()
		file := filepath.Join(root, "line.txt")
		require.NoError(t, os.WriteFile(file, []byte(line+"\n"), 0o644))
		status, _, said := command("decisions", "enter", id, file, "--in", root, "--by", "AB", "--policy", "sparse")
		require.Equal(t, exitClean, status, said)
	}
	enter(measure + " r ok")
	taken := work()
	for _, n := range silent {
		require.Equal(t, "editor", noteOf(t, taken, n).Responsibility.String())
		require.False(t, noteOf(t, taken, n).Printed, "note %d: taken, and still not needed", n)
	}
	enter(measure + " r ok print")
	written, err := os.ReadFile(filepath.Join(root, "decisions", id+".AB.yaml"))
	require.NoError(t, err)
	require.Contains(t, string(written), "print: always")
	always := work()
	for _, n := range silent {
		require.True(t, noteOf(t, always, n).Printed, "note %d", n)
	}

	require.NoError(t, os.WriteFile(filepath.Join(root, "decisions", id+".AB.yaml"), append(written, []byte("  - {query: notes, when: 2026-03-01, why: a, print: always, notes: [{measure: 1, onset: 0}]}\n")...), 0o644))
	status, _, said := command("lint", root)
	require.Equal(t, exitFailed, status)
	require.Contains(t, said, "print says nothing in a query on notes")
}
