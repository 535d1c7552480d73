package files

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// Lock is the right to write what a lock file stands for. The operating system holds it: it ends with the program,
// however that ends, and a lock file left behind by a kill locks nothing.
type Lock struct {
	flock *flock.Flock
	path  string
}

// Held says that another program holds a lock.
type Held struct {
	Path   string
	Holder string // as it named itself, "" where that cannot be read
}

func (h Held) Error() string {
	holder := h.Holder
	if holder == "" {
		holder = "another program"
	}
	return fmt.Sprintf("%s is writing in %s", holder, filepath.Dir(h.Path))
}

// tryAgain is how long is waited before a lock is asked for again.
const tryAgain = 20 * time.Millisecond

// Take takes the lock of the file path, waiting as long as patience, and writes holder into it, one line that names
// the program to a person. Where another one has it, the error is Held.
func Take(ctx context.Context, path, holder string, patience time.Duration) (*Lock, error) {
	deadline := time.Now().Add(patience)
	for {
		l, err := try(path)
		if err != nil {
			return nil, fmt.Errorf("locking %s: %w", path, err)
		}
		if l != nil {
			// Only a person reads it; where it cannot be written the lock holds all the same.
			_ = os.WriteFile(path, []byte(oneLine(holder)+"\n"), 0o644)
			return l, nil
		}
		if !time.Now().Before(deadline) {
			text, _ := Read(path, 4096)
			return nil, Held{path, oneLine(string(text))}
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(tryAgain):
		}
	}
}

// try takes the lock if it is free; nil where it is not.
func try(path string) (*Lock, error) {
	f := flock.New(path, flock.SetFlag(os.O_CREATE|os.O_RDWR), flock.SetPermissions(0o644))
	ok, err := f.TryLock()
	if heldOpen(err) { // its holder is just taking it away
		return nil, nil
	}
	if err != nil || !ok {
		return nil, err
	}
	// Its last holder may have taken the file away between our opening and our locking it: then others lock a new
	// file of that name, and this one means nothing.
	mine, err := f.Stat()
	if err == nil {
		var there fs.FileInfo
		if there, err = os.Stat(path); err == nil && os.SameFile(mine, there) {
			return &Lock{f, path}, nil
		}
	}
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return nil, errors.Join(err, f.Unlock())
}

// Release gives the lock back and takes its file away.
func (l *Lock) Release() error {
	if runtime.GOOS == "windows" { // an open file cannot be removed there; one that somebody has taken meanwhile neither
		err := l.flock.Unlock()
		_ = os.Remove(l.path) // it locks nothing
		return err
	}
	err := os.Remove(l.path) // while it is still ours
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrPermission) {
		err = nil
	}
	return errors.Join(err, l.flock.Unlock())
}

func oneLine(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	return strings.ToValidUTF8(s[:min(len(s), 400)], "")
}
