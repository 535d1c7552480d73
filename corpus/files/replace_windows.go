package files

import (
	"errors"
	"os"
	"path/filepath"
)

// replace puts an ordinary file in place by a new name beside it.
func replace(path string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path))
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Sync(), f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		_ = os.Remove(f.Name()) // the first error is the one that counts
	}
	return err
}
