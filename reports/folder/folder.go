// Package folder writes a run's output folder: every file whole or not at
// all, nothing of anybody else's touched, nothing stale left behind.
package folder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/google/renameio/v2"
)

// marker is the file by which a folder is known to be ours.
const marker = ".written-by-fingerproof"

// rooms are the folders inside, in which nothing but this run's files lies
// when it is done.
var rooms = []string{"edition", "edits", "results", "review"}

// Folder is an output folder that is being written.
type Folder struct {
	dir     string
	written map[string]bool
}

// Open makes the folder, or takes up one that an earlier run wrote. A folder
// that holds anything else is refused.
func Open(dir string) (*Folder, error) {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return nil, fmt.Errorf("opening the output folder: %w", err)
	case len(entries) > 0:
		if _, err := os.Stat(filepath.Join(dir, marker)); err != nil {
			return nil, fmt.Errorf(
				"the folder %s holds files that were not written by a run (%s)\n"+
					"hint: name another folder with --out, or empty this one",
				dir, entries[0].Name(),
			)
		}
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("making the output folder: %w", err)
	}
	f := &Folder{dir: dir, written: map[string]bool{}}
	return f, f.put(marker, []byte("This folder is written anew by every run; keep nothing of your own in it.\n"))
}

// Dir is the folder's path.
func (f *Folder) Dir() string { return f.dir }

// Write puts a file into the folder, name with slashes. A reader sees the old
// content or the new, never half of it.
func (f *Folder) Write(name string, data []byte) error {
	f.written[name] = true
	return f.put(name, data)
}

func (f *Folder) put(name string, data []byte) error {
	path := filepath.Join(f.dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("making the folder of %s: %w", name, err)
	}
	if err := renameio.WriteFile(path, data, 0o644); err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	return nil
}

// Finish takes out what earlier runs left in the folder's rooms and this one
// did not write: pieces that are gone, or that failed.
func (f *Folder) Finish() error {
	for _, room := range rooms {
		entries, err := os.ReadDir(filepath.Join(f.dir, room))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return fmt.Errorf("tidying %s: %w", room, err)
		}
		for _, e := range entries {
			if e.IsDir() || f.written[room+"/"+e.Name()] || strings.HasPrefix(e.Name(), ".git") {
				continue
			}
			if err := os.Remove(filepath.Join(f.dir, room, e.Name())); err != nil {
				return fmt.Errorf("taking out a file of an earlier run: %w", err)
			}
		}
	}
	return nil
}
