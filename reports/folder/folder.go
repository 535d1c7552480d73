// Package folder writes a run's output folder: every file whole or not at
// all, nothing of anybody else's touched, nothing stale left behind.
package folder

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"

	"fingerproof/corpus/files"
)

// marker is the file by which a folder is known to be ours.
const marker = ".written-by-fingerproof"

// rooms are the folders inside, in which nothing but this run's files lies
// when it is done.
var rooms = []string{"edition", "edits", "results", "review", Entries}

// Entries is the room in which a run keeps what the index takes from each piece, for runs over some pieces only.
const Entries = ".index"

// Folder is an output folder that is being written.
type Folder struct {
	dir     string
	mutex   sync.Mutex // of written and fresh
	written map[string]bool
	fresh   []string // paths that were put and that the disk need not have yet
	lock    *files.Lock
}

// lockName is the file by which one program at a time writes into a folder.
const lockName = ".lock"

// Open makes the folder, or takes up one that an earlier run wrote, and locks it until Close: holder names this
// program to others. A folder that holds anything else is refused, and one that another program is writing into.
func Open(dir, holder string) (*Folder, error) {
	if err := ours(dir); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("making the output folder: %w", err)
	}
	lock, err := files.Take(context.Background(), filepath.Join(dir, lockName), holder, 0)
	if errors.As(err, new(files.Held)) {
		return nil, fmt.Errorf("%w\nhint: wait until it is done, or name another folder with --out", err)
	}
	if err != nil {
		return nil, fmt.Errorf("opening the output folder: %w", err)
	}
	f := &Folder{dir: dir, written: map[string]bool{}, lock: lock}
	said := []byte("This folder is written anew by every run; keep nothing of your own in it.\n")
	if err := f.put(File{marker, Whole(said)}); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}

// ours says why a folder may not be written into.
func ours(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("opening the output folder: %w", err)
	}
	if _, err := os.Stat(filepath.Join(dir, marker)); err == nil {
		return nil
	}
	for _, e := range entries {
		if e.Name() == lockName || strings.HasPrefix(e.Name(), marker) { // a run that was killed at its beginning
			continue
		}
		return fmt.Errorf(
			"the folder %s holds files that were not written by a run (%s)\n"+
				"hint: name another folder with --out, or empty this one",
			dir, e.Name(),
		)
	}
	return nil
}

// Close gives the folder free for others.
func (f *Folder) Close() error {
	if err := f.lock.Release(); err != nil {
		return fmt.Errorf("giving back the lock of %s: %w", f.dir, err)
	}
	return nil
}

// Write puts a file into the folder, name with slashes. A reader sees the old
// content or the new, never half of it.
func (f *Folder) Write(name string, data []byte) error {
	return f.WriteAll(File{name, Whole(data)})
}

// File is a file to be written, its name with slashes.
type File struct {
	Name string
	Content
}

// Content is what a file holds: as bytes, or, where it lies elsewhere, as its size and sum, by which one sees whether it stands
// already, and a way to it.
type Content struct {
	data []byte
	size int64
	sum  string // files.Sum; "" where the bytes are here
	load func() ([]byte, error)
}

// Whole is content whose bytes are here.
func Whole(data []byte) Content { return Content{data: data, size: int64(len(data))} }

// Elsewhere is content of a size and sum (files.Sum) that is fetched only where it is not what stands.
func Elsewhere(size int64, sum string, load func() ([]byte, error)) Content {
	return Content{size: size, sum: sum, load: load}
}

// Size is how many bytes it has.
func (c *Content) Size() int64 { return c.size }

// Bytes gives them, from where they are.
func (c *Content) Bytes() ([]byte, error) {
	if c.load == nil {
		return c.data, nil
	}
	return c.load()
}

// Sum is the files.Sum of the bytes.
func (c *Content) Sum() string {
	if c.load == nil {
		return files.Sum(c.data)
	}
	return c.sum
}

// none says that there is nothing to be written.
func (c *Content) none() bool { return c.data == nil && c.load == nil }

// WriteAll puts several files into the folder. Files without content are left out.
func (f *Folder) WriteAll(list ...File) error {
	for _, file := range list {
		if file.none() {
			continue
		}
		f.Keep(file.Name)
		if err := f.put(file); err != nil {
			return err
		}
	}
	return nil
}

// Keep leaves a file as an earlier run left it.
func (f *Folder) Keep(name string) {
	f.mutex.Lock()
	defer f.mutex.Unlock()
	f.written[name] = true
}

// path is where a file of the folder lies.
func (f *Folder) path(name string) string { return filepath.Join(f.dir, filepath.FromSlash(name)) }

// Has says that an earlier run left a file.
func (f *Folder) Has(name string) bool {
	info, err := os.Stat(f.path(name))
	return err == nil && info.Mode().IsRegular()
}

// Reader opens a file as an earlier run left it, to read its beginning.
func (f *Folder) Reader(name string) (io.ReadCloser, error) {
	if !f.Has(name) { // opening waits at a pipe that nobody writes into
		return nil, fs.ErrNotExist
	}
	return os.Open(f.path(name))
}

// Earlier is a file as an earlier run left it, nil where there is none.
func (f *Folder) Earlier(name string) []byte {
	data, err := files.Read(f.path(name), files.StateLimit)
	if err != nil {
		return nil
	}
	return data
}

func (f *Folder) put(file File) error {
	path := f.path(file.Name)
	if stands(path, &file.Content) { // what a run from the cache writes stands there already
		return nil
	}
	data, err := file.Bytes()
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("making the folder of %s: %w", file.Name, err)
	}
	if err := files.WriteSoon(path, data); err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	f.mutex.Lock()
	defer f.mutex.Unlock()
	f.fresh = append(f.fresh, path)
	return nil
}

// atOnce is how many files the disk is waited for at once.
const atOnce = 16

// waitForDisk waits until the disk has every file that was put. While a run is on it does not wait for any: a run that is cut
// off is run again, and writes again what does not stand as it should.
func (f *Folder) waitForDisk() error {
	var group errgroup.Group
	group.SetLimit(atOnce)
	for _, path := range f.fresh {
		group.Go(func() error {
			if err := files.WaitForDisk(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
				return fmt.Errorf("writing %s: %w", path, err)
			}
			return nil
		})
	}
	f.fresh = nil
	return group.Wait()
}

// stands says that an ordinary file holds just this.
func stands(path string, c *Content) bool {
	info, err := os.Lstat(path)
	if err != nil || !info.Mode().IsRegular() || info.Size() != c.size {
		return false
	}
	now, err := files.SumOfFile(path)
	return err == nil && now == c.Sum()
}

// Before is the room for what earlier runs made of pieces that the last one could not work on.
const Before = "before"

// KeepBefore puts what an earlier run wrote under a name, if it did, into the room before, where it stays until the piece
// works again: nothing is lost, and nothing stands among the files of this run that is not of it. mark, which may be
// nil, gives what is kept in place of the file as it was, nil where the file is none to be kept. It says whether anything is kept.
func (f *Folder) KeepBefore(name string, mark func([]byte) []byte) (bool, error) {
	kept := Before + "/" + name
	for _, from := range []string{name, kept} {
		data, err := files.Read(f.path(from), files.StateLimit)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return false, fmt.Errorf("keeping a file of an earlier run: %w", err)
		}
		if mark != nil {
			if data = mark(data); data == nil {
				continue
			}
		}
		return true, f.Write(kept, data)
	}
	return false, nil
}

// Finish waits until the disk has what was written, and takes out what earlier runs left in the folder's rooms and this
// one did not write: pieces that are gone, and what was kept of those that work again.
func (f *Folder) Finish() error {
	if err := f.waitForDisk(); err != nil {
		return err
	}
	for _, room := range rooms {
		for _, room := range []string{room, Before + "/" + room} {
			if err := f.tidy(room); err != nil {
				return err
			}
		}
	}
	_ = os.Remove(filepath.Join(f.dir, Before)) // where it is empty
	return nil
}

func (f *Folder) tidy(room string) error {
	dir := filepath.Join(f.dir, filepath.FromSlash(room))
	entries, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("tidying %s: %w", room, err)
	}
	for _, e := range entries {
		if e.IsDir() || f.written[room+"/"+e.Name()] || strings.HasPrefix(e.Name(), ".git") {
			continue
		}
		if err := os.Remove(filepath.Join(dir, e.Name())); err != nil {
			return fmt.Errorf("taking out a file of an earlier run: %w", err)
		}
	}
	if strings.HasPrefix(room, Before+"/") {
		_ = os.Remove(dir) // where it is empty
	}
	return nil
}
