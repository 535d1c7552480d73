package main

import (
	"bytes"
	"context"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

//go:embed forgit
var forGit embed.FS

// filesForGit are what init --git writes, from the top of the repository; the first lies in the collection's folder.
var filesForGit = []struct{ template, path string }{
	{"gitattributes", ".gitattributes"},
	{"pre-commit-config.yaml", ".pre-commit-config.yaml"},
	{"workflow.yaml", ".github/workflows/fingering.yaml"},
}

// plainInFiles are characters that need no quotation marks in YAML and in command lines.
const plainInFiles = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._/-"

// initGit prepares the repository in which a collection lies: how git shows and merges what is in it, what is looked at
// before a commit, and what CI does. What is there already stays, and is named.
func initGit(ctx context.Context, env *environment, dir string) error {
	said, err := git(ctx, dir, "rev-parse", "--show-toplevel", "--show-prefix")
	if err != nil {
		return fmt.Errorf("finding the git repository of %s: %w\nhint: git has to be installed, and `git init` makes a repository", dir, err)
	}
	lines := strings.Split(string(said), "\n")
	top, path := filepath.FromSlash(lines[0]), "."
	if len(lines) > 1 && lines[1] != "" {
		path = strings.TrimSuffix(lines[1], "/")
	}
	if strings.ContainsAny(path, "'\n") {
		return fmt.Errorf("the folder %q cannot be named in the files that are to be written\nhint: rename it", path)
	}
	if strings.IndexFunc(path, func(r rune) bool { return !strings.ContainsRune(plainInFiles, r) }) >= 0 {
		path = "'" + path + "'" // alike in YAML and in the command lines of hooks
	}
	for i, f := range filesForGit {
		text, err := fs.ReadFile(forGit, "forgit/"+f.template)
		if err != nil {
			return err // it is part of the program
		}
		to := filepath.Join(top, filepath.FromSlash(f.path))
		if i == 0 {
			to = filepath.Join(dir, f.path)
		}
		written, err := writeNew(to, bytes.ReplaceAll(text, []byte("PATH"), []byte(path)))
		if err != nil {
			return err
		}
		if !written {
			env.complain("%s is there already and stays as it is\nhint: what it could hold:\n%s", asTyped(to), text)
			continue
		}
		fmt.Fprintf(env.Stdout, "wrote %s\n", asTyped(to))
	}
	if _, err := git(ctx, dir, "config", "diff.score.command", "fingerproof diff --git"); err != nil {
		return fmt.Errorf("setting how git shows scores: %w", err)
	}
	fmt.Fprintf(env.Stdout, "git shows changes of scores as music in this clone; in others after: "+
		"git config diff.score.command 'fingerproof diff --git'\n"+
		"In %s, put the repository of the program's source for OWNER/NAME.\n", filesForGit[2].path)
	return nil
}

// writeNew writes a file that is not there yet; where it is, nothing.
func writeNew(path string, data []byte) (written bool, err error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return false, fmt.Errorf("making a folder: %w", err)
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if errors.Is(err, fs.ErrExist) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("writing %s: %w", path, err)
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err != nil {
		return false, fmt.Errorf("writing %s: %w", path, err)
	}
	return true, nil
}
