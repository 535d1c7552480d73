package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"fingerproof/corpus/files"
	"fingerproof/pipeline/3_records/decision"

	"github.com/stretchr/testify/require"
)

// keepingCollection is a folder with a small piece "figures" in it, and what writes further files there.
func keepingCollection(t *testing.T) (root string, write func(name, text string)) {
	t.Helper()
	root = t.TempDir()
	write = func(name, text string) {
		t.Helper()
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(root, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(root, name), []byte(text), 0o644))
	}
	write("figures.musicxml", figurePiece(4))
	write("collection.yaml", "title: Figures\npieces: [{score: figures.musicxml}]\n")
	return root, write
}

func readText(t *testing.T, path ...string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(path...))
	require.NoError(t, err)
	return string(data)
}

// Sixteen people who key in at once all keep what they decided.
func TestDecisionsEnteredAtOnceAreAllKept(t *testing.T) {
	root, write := keepingCollection(t)
	var wait sync.WaitGroup
	for i := range 16 {
		name := fmt.Sprintf("lines%d.txt", i)
		write(name, fmt.Sprintf("%d r %d\n", i%4+1, i%5+1))
		wait.Go(func() {
			status, _, said := command("decisions", "enter", "figures", filepath.Join(root, name), "--in", root, "--by", "AB")
			if status != exitClean {
				t.Errorf("status %d: %s", status, said)
			}
		})
	}
	wait.Wait()
	kept, err := decision.Read(filepath.Join(root, "decisions"), "figures")
	require.NoError(t, err)
	require.Len(t, kept, 16)
	require.NoFileExists(t, filepath.Join(root, "decisions", lockName))
}

// Who writes where another program writes hears which one, and changes nothing.
func TestWhereAnotherProgramWritesItIsNamed(t *testing.T) {
	root, _ := keepingCollection(t)
	out := filepath.Join(root, "out")
	for _, c := range []struct {
		dir  string
		args []string
	}{
		{out, []string{"run", root, "--out", out, "--excerpts", "0"}},
		{out, []string{"lint", root, "--fix", "--out", out}},
		{filepath.Join(root, "fixes"), []string{"lint", root, "--fix", "--in-place"}},
		{filepath.Join(root, "passed"), []string{"pass", root, "--by", "AB", "--anyway", "a test"}},
	} {
		require.NoError(t, os.MkdirAll(c.dir, 0o755))
		lock, err := files.Take(context.Background(), filepath.Join(c.dir, lockName), "the other (process 7)", 0)
		require.NoError(t, err)
		status, _, said := command(c.args...)
		require.Equal(t, exitFailed, status, c.args)
		require.Contains(t, said, "the other (process 7) is writing in "+c.dir)
		require.Contains(t, said, "hint: wait until it is done")
		require.NoError(t, lock.Release())
		entries, err := os.ReadDir(c.dir)
		require.NoError(t, err)
		require.Empty(t, entries, "nothing was written")
	}
}

// A run that was killed leaves its lock file; the next one takes the folder up.
func TestALockLeftBehindHoldsNobodyUp(t *testing.T) {
	root, write := keepingCollection(t)
	write("out/"+lockName, "fingerproof (process 7, killed)\n")
	status, _, said := command("run", root, "--excerpts", "0", "--fail-on", "never")
	require.Equal(t, exitClean, status, said)
	require.NoFileExists(t, filepath.Join(root, "out", lockName))
}

// A passed state that a newer program wrote, or that cannot be read, stays as it is; so do fitted weights.
func TestWhatCannotBeReadIsNotWrittenOver(t *testing.T) {
	root, write := keepingCollection(t)
	status, _, said := command("run", root, "--excerpts", "0", "--fail-on", "never")
	require.Equal(t, exitClean, status, said)
	status, _, said = command("pass", root, "--by", "AB", "--anyway", "first")
	require.Equal(t, exitClean, status, said)
	whole := readText(t, root, "passed", "figures.json")
	for _, text := range []string{strings.Replace(whole, `"version": 1`, `"version": 2`, 1), whole[:100], "{}", ""} {
		write("passed/figures.json", text)
		status, _, said = command("pass", root, "--by", "AB", "--anyway", "again")
		require.Equal(t, exitFailed, status)
		require.Contains(t, said, "passed/figures.json")
		require.Equal(t, text, readText(t, root, "passed", "figures.json"))
	}
	for _, text := range []string{`{"version": 2}`, "", "notes of my own\n"} {
		write("house-hand.json", text)
		status, _, said = command("fit", root)
		require.Equal(t, exitFailed, status)
		require.Contains(t, said, "house-hand.json stays as it is")
		require.Equal(t, text, readText(t, root, "house-hand.json"))
	}
	write("decisions/figures.AB.yaml", "piece: figures\nby: AB\nversion: 2\ndecisions: []\n")
	write("lines.txt", "1 r 3\n")
	status, _, said = command("decisions", "enter", "figures", filepath.Join(root, "lines.txt"), "--in", root, "--by", "AB")
	require.Equal(t, exitFailed, status)
	require.Contains(t, said, "figures.AB.yaml:3")
	require.Contains(t, readText(t, root, "decisions", "figures.AB.yaml"), "version: 2")
}

// The score that is kept with a passed state is held against its sum before anything is compared with it.
func TestACheckGoesByNoOtherTextThanWasPassed(t *testing.T) {
	root, write := keepingCollection(t)
	for _, args := range [][]string{
		{"run", root, "--excerpts", "0", "--fail-on", "never"}, {"pass", root, "--by", "AB", "--anyway", "first"}, {"check", root},
	} {
		status, _, said := command(args...)
		require.Equal(t, exitClean, status, said)
	}
	kept, err := filepath.Glob(filepath.Join(root, "passed", "text", "*"))
	require.NoError(t, err)
	require.Len(t, kept, 1)
	require.NoError(t, os.WriteFile(kept[0], []byte(figurePiece(5)), 0o644))
	write("figures.musicxml", figurePiece(5))
	status, stdout, said := command("check", root)
	require.Equal(t, exitFailed, status)
	require.Contains(t, stdout, "is not the score that was passed")
	require.NotContains(t, said, "is not the score that was passed", "it is said once")
	require.NotContains(t, stdout, "figures: as passed")
}

// A report goes through a link to what it points to, and a device stays one; a score that is a link is fixed where it is.
func TestWhatIsWrittenGoesThroughLinks(t *testing.T) {
	root, write := keepingCollection(t)
	write("reports/target.json", "old")
	link := filepath.Join(root, "link.json")
	require.NoError(t, os.Symlink("reports/target.json", link))
	status, _, said := command("lint", root, "--report", "json="+link, "--fail-on", "never")
	require.Equal(t, exitClean, status, said)
	require.True(t, json.Valid([]byte(readText(t, root, "reports", "target.json"))))
	info, err := os.Lstat(link)
	require.NoError(t, err)
	require.NotZero(t, info.Mode()&os.ModeSymlink)

	wrong := strings.Replace(figurePiece(5), "<type>eighth</type>", `<type>eighth</type><notations><technical>`+
		`<fingering placement="below">1</fingering></technical></notations>`, 1)
	write("masters/figures.musicxml", wrong)
	require.NoError(t, os.Remove(filepath.Join(root, "figures.musicxml")))
	require.NoError(t, os.Symlink("masters/figures.musicxml", filepath.Join(root, "figures.musicxml")))
	status, _, said = command("lint", root, "--fix", "--in-place", "--fail-on", "never")
	require.Equal(t, exitClean, status, said)
	require.Contains(t, said, "fixed 1 finding in 1 score")
	info, err = os.Lstat(filepath.Join(root, "figures.musicxml"))
	require.NoError(t, err)
	require.NotZero(t, info.Mode()&os.ModeSymlink, "the link is still one")
	require.NotEqual(t, wrong, readText(t, root, "masters", "figures.musicxml"), "the master is fixed")
}
