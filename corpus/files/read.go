// Package files reads and writes files so that nobody's work is lost and nothing without bound is read: what is
// written is whole or not there, nobody's change in between is written over, and one program at a time writes.
package files

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// Limits of what is read at once, in bytes. They are far above any real file.
const (
	TextLimit  = 8 << 20   // a text of the editors' own for front or back matter
	ScoreLimit = 128 << 20 // a score as it lies on disk
	StateLimit = 512 << 20 // results, passed states, reports: what this program writes
)

// Read reads an ordinary file of at most limit bytes. The size is looked at before any memory is taken; a file that
// grows meanwhile is refused as well. A pipe or a device would be waited for without end and is an error.
func Read(path string, limit int64) ([]byte, error) { return read(path, limit, false) }

// ReadNamed is Read for what a person names on the command line: a pipe is read to its end.
func ReadNamed(path string, limit int64) ([]byte, error) { return read(path, limit, true) }

func read(path string, limit int64, pipes bool) ([]byte, error) {
	info, err := os.Stat(path) // before opening, which waits at a pipe that nobody writes into
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder, not a file", path)
	case !info.Mode().IsRegular() && !pipes:
		return nil, fmt.Errorf("%s is no ordinary file", path)
	case info.Size() > limit:
		return nil, tooLong(path, info.Size(), limit)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data := make([]byte, 0, info.Size()+1) // one more: the end is seen without growing
	for {
		n, err := f.Read(data[len(data):cap(data)])
		data = data[:len(data)+n]
		if int64(len(data)) > limit {
			return nil, tooLong(path, int64(len(data)), limit)
		}
		if errors.Is(err, io.EOF) {
			return data, nil
		}
		if err != nil {
			return nil, err
		}
		if len(data) == cap(data) {
			data = append(data, 0)[:len(data)]
		}
	}
}

func tooLong(path string, size, limit int64) error {
	return fmt.Errorf("%s has %d bytes, more than the %d allowed", path, size, limit)
}

// ReadIfThere is Read for a file that may be missing: nil then, and never nil where it is there.
func ReadIfThere(path string, limit int64) ([]byte, error) {
	data, err := Read(path, limit)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return data, err
}
