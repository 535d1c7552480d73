//go:build !windows

package files

import (
	"path/filepath"

	"github.com/google/renameio/v2"
)

// replace puts an ordinary file in place by a new name beside it. The new one has the old one's permissions.
func replace(path string, data []byte) error {
	return renameio.WriteFile(path, data, 0o644, renameio.WithTempDir(filepath.Dir(path)))
}

// heldOpen says that something could not be done with a file since a program has it open: never so here.
func heldOpen(error) bool { return false }
