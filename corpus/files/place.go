package files

import (
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
)

// place puts a file in place whole, without waiting until the disk has it: what an accident leaves damaged has to be known
// for it by what it holds. exactly gives it these permissions whatever the user's mask says.
func place(path string, allowed fs.FileMode, exactly bool, parts ...[]byte) error {
	f, err := beside(path, allowed)
	if err != nil {
		return err
	}
	if exactly {
		err = f.Chmod(allowed)
	}
	for _, part := range parts {
		if err == nil {
			_, err = f.Write(part)
		}
	}
	if err = errors.Join(err, f.Close()); err == nil {
		err = rename(f.Name(), path)
	}
	if err != nil {
		_ = os.Remove(f.Name()) // the first error is the one that counts
	}
	return err
}

// mostNames is how many names are tried for a new file.
const mostNames = 1000

// beside makes a new file beside a path, of a name that nobody has.
func beside(path string, allowed fs.FileMode) (*os.File, error) {
	before := filepath.Join(filepath.Dir(path), "."+filepath.Base(path))
	for range mostNames {
		f, err := os.OpenFile(before+strconv.FormatUint(rand.Uint64(), 36), os.O_WRONLY|os.O_CREATE|os.O_EXCL, allowed)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
	return nil, &fs.PathError{Op: "making a file beside", Path: path, Err: fs.ErrExist}
}
