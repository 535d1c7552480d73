package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"fingerproof/corpus/strictyaml"
)

// plain is an error's text with what the system says in plain words, and with a hint where it has none.
func plain(err error) string {
	text := strings.TrimRight(err.Error(), "\n")
	hint := ""
	for _, e := range systemErrors(err, nil) {
		words, hinted := systemWords(e)
		if words == "" || !strings.Contains(text, e.Error()) {
			continue
		}
		text = strings.ReplaceAll(text, e.Error(), words)
		if hint == "" {
			hint = hinted
		}
	}
	if hint != "" && !strings.Contains(text, "\nhint: ") {
		text += "\nhint: " + hint
	}
	return text
}

// systemErrors finds what the system said, anywhere in an error.
func systemErrors(err error, found []error) []error {
	switch e := err.(type) { //nolint:errorlint // the chain is walked here
	case nil:
		return found
	case *fs.PathError, *os.LinkError:
		return append(found, e)
	case interface{ Unwrap() []error }:
		for _, below := range e.Unwrap() {
			found = systemErrors(below, found)
		}
		return found
	}
	return systemErrors(errors.Unwrap(err), found)
}

// systemWords says in plain words what the system refused, and what can be done; "" where there are no better words than
// the system's.
func systemWords(err error) (words, hint string) {
	var file *fs.PathError
	var link *os.LinkError
	path, verb := "", ""
	switch {
	case errors.As(err, &file):
		path, verb = file.Path, file.Op
	case errors.As(err, &link):
		path, verb = link.New, link.Op
	}
	writing := verb == "mkdir" || verb == "rename" || isBeside(path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && writing && isThere(filepath.Dir(path)):
		return "nothing can be made in " + filepath.Dir(path), "name another place"
	case errors.Is(err, fs.ErrNotExist) && writing:
		return "there is no folder " + filepath.Dir(path), "make it first, or name another place"
	case errors.Is(err, fs.ErrNotExist):
		return "there is no file or folder " + path, nearest(path)
	case errors.Is(err, fs.ErrPermission) && writing:
		return "nothing may be written in " + filepath.Dir(path), "name another place, or have the rights to it given"
	case errors.Is(err, fs.ErrPermission):
		return path + " may not be read", "have the rights to it given"
	case errors.Is(err, syscall.ENOSPC):
		return "the disk is full", "make room, or name a place on another disk"
	case errors.Is(err, syscall.EROFS):
		return filepath.Dir(path) + " lies on a disk that cannot be written", "name another place"
	case errors.Is(err, syscall.ENOTDIR):
		return path + " leads through a file as if it were a folder", ""
	case errors.Is(err, syscall.EISDIR):
		return path + " is a folder, not a file", ""
	case errors.Is(err, syscall.ENAMETOOLONG):
		return "a name in " + filepath.Dir(path) + " is too long for this disk", "give a shorter one"
	}
	return "", ""
}

func isThere(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// isBeside says that a path is that of a file which is written beside another one, to take its place.
func isBeside(path string) bool {
	name := filepath.Base(path)
	return strings.HasPrefix(name, ".") && strings.ContainsAny(name, "0123456789")
}

// nearest is a hint: what lies beside a path under nearly its name; "" where nothing does.
func nearest(path string) string {
	entries, err := os.ReadDir(filepath.Dir(path))
	const many = 10_000 // a hint is not worth more
	if err != nil || len(entries) > many {
		return ""
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if near := strictyaml.NearestFile(filepath.Base(path), names); near != "" {
		return "did you mean " + filepath.Join(filepath.Dir(path), near) + "?"
	}
	return ""
}
