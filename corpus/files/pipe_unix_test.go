//go:build !windows

package files_test

import (
	"fmt"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"fingerproof/corpus/files"

	"github.com/stretchr/testify/require"
)

func TestAPipeIsNotWaitedFor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	require.NoError(t, syscall.Mkfifo(path, 0o600))
	_, err := files.Read(path, 10)
	require.ErrorContains(t, err, "no ordinary file")
	hold, err := os.OpenFile(path, os.O_RDWR, 0) // so that nothing below waits for the other end
	require.NoError(t, err)
	defer hold.Close()
	require.NoError(t, files.Write(path, []byte("through")), "a pipe is written into")
	got := make([]byte, 7)
	_, err = hold.Read(got)
	require.NoError(t, err)
	require.Equal(t, "through", string(got))
	info, err := os.Lstat(path)
	require.NoError(t, err)
	require.NotZero(t, info.Mode()&os.ModeNamedPipe, "and is still one")
	go func() {
		_, _ = hold.Write([]byte("more than six"))
	}()
	_, err = files.ReadNamed(path, 6)
	require.ErrorContains(t, err, "more than the 6 allowed", "a pipe without end is not read to its end")
}

// An open pipe has a name by its number, /dev/fd/N, that leads to nothing a path could name.
func TestAnOpenPipeIsWrittenByItsNumber(t *testing.T) {
	r, w, err := os.Pipe()
	require.NoError(t, err)
	defer r.Close()
	defer w.Close()
	name := fmt.Sprintf("/dev/fd/%d", w.Fd())
	if _, err := os.Stat(name); err != nil {
		t.Skip("open files have no names here")
	}
	require.NoError(t, files.Write(name, []byte("through")))
	got := make([]byte, 7)
	_, err = r.Read(got)
	require.NoError(t, err)
	require.Equal(t, "through", string(got))
}
