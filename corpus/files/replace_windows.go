package files

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"
)

// replace puts an ordinary file in place by a new name beside it.
func replace(path string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path))
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Sync(), f.Close()); err == nil {
		err = rename(f.Name(), path)
	}
	if err != nil {
		_ = os.Remove(f.Name()) // the first error is the one that counts
	}
	return err
}

// A file that another program has open cannot be replaced on Windows: readers, virus scanners and indexers have it open
// for moments. So long it is tried again, as the go command does.
const (
	patience     = 2 * time.Second
	sharingError = syscall.Errno(32) // ERROR_SHARING_VIOLATION
)

// waitForDisk waits until the disk has a file that is open to be read: here only who writes it may ask for that, and the
// system writes it within seconds.
func waitForDisk(*os.File) error { return nil }

// heldOpen says that something could not be done with a file since a program has it open.
func heldOpen(err error) bool { return errors.Is(err, sharingError) }

func rename(from, to string) error {
	deadline := time.Now().Add(patience)
	for {
		err := os.Rename(from, to)
		if err == nil || !errors.Is(err, fs.ErrPermission) && !heldOpen(err) || time.Now().After(deadline) {
			return err
		}
		time.Sleep(tryAgain)
	}
}
