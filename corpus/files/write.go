package files

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Write puts data at a path. An ordinary file is replaced, whole or not at all, and keeps its permissions; a link is
// followed, also one to a file that is not there yet; a device or a pipe is written into and never replaced.
func Write(path string, data []byte) error { return write(path, data, replace) }

// WriteSoon is Write without waiting until the disk has the file, for what can be made again: a reader sees the old
// content or the new one, but after a loss of power before WaitForDisk neither need be there.
func WriteSoon(path string, data []byte) error {
	return write(path, data, func(path string, data []byte) error {
		allowed := fs.FileMode(0o644)
		info, err := os.Stat(path)
		if err == nil {
			allowed = info.Mode().Perm()
		}
		return place(path, allowed, err == nil, data)
	})
}

// WaitForDisk waits until the disk has a file.
func WaitForDisk(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(waitForDisk(f), f.Close())
}

func write(path string, data []byte, replace func(string, []byte) error) error {
	at, err := target(path)
	if err != nil {
		return err
	}
	if info, err := os.Stat(at); err == nil && !info.Mode().IsRegular() {
		if info.IsDir() {
			return fmt.Errorf("%s is a folder, not a file", path)
		}
		return into(at, data)
	}
	return replace(at, data)
}

// into writes into what is no ordinary file.
func into(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

// longestChain is how many links may point to each other.
const longestChain = 40

// target follows links from a path to where a file is, or will be.
func target(path string) (string, error) {
	for range longestChain {
		info, err := os.Lstat(path)
		if errors.Is(err, fs.ErrNotExist) {
			return path, nil
		}
		if err != nil {
			return "", err
		}
		if info.Mode()&fs.ModeSymlink == 0 {
			return path, nil
		}
		to, err := os.Readlink(path)
		if err != nil {
			return "", err
		}
		if !filepath.IsAbs(to) {
			dir, err := filepath.EvalSymlinks(filepath.Dir(path)) // ".." in a link counts from the real folder
			if err != nil {
				return "", err
			}
			to = filepath.Join(dir, to)
		}
		if _, err := os.Lstat(to); err != nil {
			if _, err := os.Stat(path); err == nil {
				return path, nil // an open file by its number: what the link says is no path
			}
		}
		path = to
	}
	return "", fmt.Errorf("%s: links lead in a circle", path)
}

// Changed says that a file is not what was read: someone else has written it meanwhile.
type Changed struct{ Path string }

func (c Changed) Error() string {
	return fmt.Sprintf("%s was changed by someone else meanwhile; nothing was written\n"+
		"hint: look at what stands there now, and try again", c.Path)
}

// Replace writes a file that was read before: was is what stood there then, nil where there was no file. Where
// something else stands there by now it writes nothing, and the error is Changed. Who writes with others hold a Lock:
// between looking and writing is a moment.
func Replace(path string, was, data []byte) error {
	now, err := ReadIfThere(path, StateLimit)
	if err != nil {
		return err
	}
	if (now == nil) != (was == nil) || !bytes.Equal(now, was) {
		return Changed{path}
	}
	return Write(path, data)
}
