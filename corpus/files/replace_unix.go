//go:build !windows

package files

import (
	"os"
	"path/filepath"

	"github.com/google/renameio/v2"
)

// replace puts an ordinary file in place by a new name beside it. The new one has the old one's permissions.
func replace(path string, data []byte) error {
	return renameio.WriteFile(path, data, 0o644, renameio.WithTempDir(filepath.Dir(path)))
}

// rename gives a file another name, in place of one that has it.
func rename(from, to string) error { return os.Rename(from, to) }

// waitForDisk waits until the disk has a file that is open to be read.
func waitForDisk(f *os.File) error { return f.Sync() }

// heldOpen says that something could not be done with a file since a program has it open: never so here.
func heldOpen(error) bool { return false }
