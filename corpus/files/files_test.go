package files_test

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"fingerproof/corpus/files"

	"github.com/stretchr/testify/require"
)

func write(t *testing.T, path, text string) string {
	t.Helper()
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return path
}

func read(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(data)
}

// A sparse file has a size and no bytes on disk: reading it would take all memory.
func TestAFileTooLongIsRefusedBeforeItIsRead(t *testing.T) {
	path := write(t, filepath.Join(t.TempDir(), "sparse"), "")
	if err := os.Truncate(path, 20<<30); err != nil {
		t.Skip("no sparse files here:", err)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := files.Read(path, files.ScoreLimit)
	runtime.ReadMemStats(&after)
	require.ErrorContains(t, err, "more than the 134217728 allowed")
	require.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(1<<20))
}

func TestReadingStopsAtTheLimit(t *testing.T) {
	path := write(t, filepath.Join(t.TempDir(), "f"), "12345")
	data, err := files.Read(path, 5)
	require.NoError(t, err)
	require.Equal(t, "12345", string(data))
	_, err = files.Read(path, 4)
	require.ErrorContains(t, err, "more than the 4 allowed")
	_, err = files.Read(filepath.Dir(path), 5)
	require.ErrorContains(t, err, "is a folder")
	none, err := files.ReadIfThere(path+"x", 5)
	require.NoError(t, err)
	require.Nil(t, none)
	empty, err := files.ReadIfThere(write(t, path, ""), 5)
	require.NoError(t, err)
	require.NotNil(t, empty)
}

func TestLinksAreFollowed(t *testing.T) {
	dir := t.TempDir()
	master := write(t, filepath.Join(dir, "master"), "old")
	require.NoError(t, os.Chmod(master, 0o640))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "below"), 0o755))
	link, second := filepath.Join(dir, "below", "link"), filepath.Join(dir, "second")
	require.NoError(t, os.Symlink("../master", link))
	require.NoError(t, os.Symlink(link, second))
	require.NoError(t, files.Write(second, []byte("new")))
	require.Equal(t, "new", read(t, master))
	info, err := os.Stat(master)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o640), info.Mode().Perm(), "permissions stay")
	for _, l := range []string{link, second} {
		info, err := os.Lstat(l)
		require.NoError(t, err)
		require.NotZero(t, info.Mode()&os.ModeSymlink, "the link is still one")
	}
	dangling := filepath.Join(dir, "dangling")
	require.NoError(t, os.Symlink("not-yet", dangling))
	require.NoError(t, files.Write(dangling, []byte("x")))
	require.Equal(t, "x", read(t, filepath.Join(dir, "not-yet")))
	circle := filepath.Join(dir, "circle")
	require.NoError(t, os.Symlink("circle", circle))
	require.Error(t, files.Write(circle, nil))
}

func TestReplaceRefusesWhatSomeoneElseWrote(t *testing.T) {
	path := filepath.Join(t.TempDir(), "f")
	require.NoError(t, files.Replace(path, nil, []byte("one")))
	require.ErrorAs(t, files.Replace(path, nil, []byte("two")), new(files.Changed), "it was not there when looked at")
	require.NoError(t, files.Replace(path, []byte("one"), []byte("two")))
	require.ErrorAs(t, files.Replace(path, []byte("one"), []byte("three")), new(files.Changed))
	require.NoError(t, os.Remove(path))
	require.ErrorAs(t, files.Replace(path, []byte("two"), []byte("three")), new(files.Changed), "it was taken away")
	require.NoFileExists(t, path)
}

// Counting up in a file loses nothing where each counter holds the lock.
func TestOneHolderAtATime(t *testing.T) {
	dir := t.TempDir()
	path, lock := write(t, filepath.Join(dir, "count"), ""), filepath.Join(dir, ".lock")
	var wait sync.WaitGroup
	for range 16 {
		wait.Go(func() {
			for range 10 {
				l, err := files.Take(context.Background(), lock, "a test", time.Minute)
				if err != nil {
					t.Error(err)
					return
				}
				was, err := os.ReadFile(path)
				if err == nil {
					err = files.Replace(path, was, append(was, 'x'))
				}
				if err != nil {
					t.Error(err)
				}
				if err := l.Release(); err != nil {
					t.Error(err)
				}
			}
		})
	}
	wait.Wait()
	require.Equal(t, strings.Repeat("x", 160), read(t, path))
	require.NoFileExists(t, lock)
}

func TestALockNamesItsHolder(t *testing.T) {
	lock := filepath.Join(t.TempDir(), ".lock")
	l, err := files.Take(context.Background(), lock, "AB's\nrun, process 7", 0)
	require.NoError(t, err)
	_, err = files.Take(context.Background(), lock, "another", 30*time.Millisecond)
	var held files.Held
	require.ErrorAs(t, err, &held)
	require.Equal(t, "AB's run, process 7", held.Holder)
	require.ErrorContains(t, err, "AB's run, process 7 is writing in "+filepath.Dir(lock))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = files.Take(ctx, lock, "another", time.Hour)
	require.ErrorIs(t, err, context.Canceled)
	require.NoError(t, l.Release())
	l, err = files.Take(context.Background(), lock, "another", 0)
	require.NoError(t, err)
	require.NoError(t, l.Release())
}

// A lock ends with its holder, however that ends: this test starts itself as the holder and kills it.
func TestALockSurvivesNoKill(t *testing.T) {
	if path := os.Getenv("FILES_TEST_HOLD"); path != "" {
		_, err := files.Take(context.Background(), path, "the one that is killed", 0)
		require.NoError(t, err)
		fmt.Println("held")
		select {}
	}
	lock := filepath.Join(t.TempDir(), ".lock")
	holder := exec.Command(os.Args[0], "-test.run", "^TestALockSurvivesNoKill$")
	holder.Env = append(os.Environ(), "FILES_TEST_HOLD="+lock)
	out, err := holder.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, holder.Start())
	_, err = out.Read(make([]byte, 4))
	require.NoError(t, err)
	_, err = files.Take(context.Background(), lock, "another", 0)
	require.ErrorContains(t, err, "the one that is killed")
	require.NoError(t, holder.Process.Kill())
	_ = holder.Wait()
	require.FileExists(t, lock, "what it left")
	l, err := files.Take(context.Background(), lock, "another", 5*time.Second)
	require.NoError(t, err)
	require.NoError(t, l.Release())
}
