package main

import (
	"archive/tar"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/corpus/format"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
	"fingerproof/pipeline/3_records/state"
	"fingerproof/pipeline/4_services/compare"
)

// sides opens one side of a diff: a score, a folder, a collection, the output
// folder of a run, or any of these in a git revision (REV:path).
type sides struct {
	name   string
	single bool
	pieces []sidePiece
}

type sidePiece struct {
	id   string
	load func() (loaded, error)
}

// loaded is one side of a piece: its music and its text.
type loaded struct {
	compare.Side
	text string
}

// openSides opens a side; cleanup takes away what was unpacked for it.
func openSides(ctx context.Context, path string) (s *sides, cleanup func(), err error) {
	cleanup = func() {}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		if revision, inside, ok := strings.Cut(path, ":"); ok && len(revision) > 1 {
			dir, err := unpackRevision(ctx, revision, inside)
			if err != nil {
				return nil, cleanup, err
			}
			cleanup = func() { _ = os.RemoveAll(dir) }
			s, err := openPath(filepath.Join(dir, filepath.FromSlash(inside)))
			if s != nil {
				s.name = path
			}
			return s, cleanup, err
		}
	}
	s, err = openPath(path)
	return s, cleanup, err
}

func openPath(path string) (*sides, error) {
	if s, err := openRun(path); s != nil || err != nil {
		return s, err
	}
	c, err := corpus.Open(path)
	if err != nil {
		return nil, err
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	s := &sides{name: path, single: !info.IsDir() && c.Manifest == ""}
	for i := range c.Pieces {
		p := &c.Pieces[i]
		s.pieces = append(s.pieces, sidePiece{p.ID, func() (loaded, error) {
			if p.Fault != nil {
				return loaded{}, p.Fault
			}
			return loadScore(c.Path(p.Score))
		}})
	}
	return s, nil
}

// openRun opens the output folder of a run: its editions with what was found
// for them. nil where the folder is none.
func openRun(path string) (*sides, error) {
	entries, err := os.ReadDir(filepath.Join(path, "results"))
	if err != nil {
		return nil, nil // no run's folder
	}
	s := &sides{name: path}
	for _, e := range entries {
		id, ok := strings.CutSuffix(e.Name(), ".json")
		if !ok {
			continue
		}
		s.pieces = append(s.pieces, sidePiece{id, func() (loaded, error) {
			data, err := files.Read(filepath.Join(path, "results", id+".json"), files.StateLimit)
			if err != nil {
				return loaded{}, fmt.Errorf("reading the results: %w", err)
			}
			result, err := state.Decode(data)
			if err != nil {
				return loaded{}, err
			}
			side, err := loadScore(filepath.Join(path, "edition", result.Summary.Edition))
			side.Result = result
			return side, err
		}})
	}
	return s, nil
}

func loadScore(path string) (loaded, error) {
	data, err := files.ReadNamed(path, files.ScoreLimit)
	if err != nil {
		return loaded{}, fmt.Errorf("reading the score: %w", err)
	}
	doc, err := source.Open(path, data, source.DefaultLimits())
	if err != nil {
		return loaded{}, err
	}
	s, _, err := format.Read(doc)
	return loaded{compare.Side{Score: s}, doc.Text}, err
}

// openRevision opens a path of a git revision, REVISION:PATH, whatever lies in the folder.
func openRevision(ctx context.Context, c *compared, path string) (*sides, error) {
	revision, inside, _ := strings.Cut(path, ":")
	dir, err := unpackRevision(ctx, revision, inside)
	if err != nil {
		return nil, err
	}
	c.cleanups = append(c.cleanups, func() { _ = os.RemoveAll(dir) })
	s, err := openPath(filepath.Join(dir, filepath.FromSlash(inside)))
	if s != nil {
		s.name = path
	}
	return s, err
}

// openWitnesses opens two witnesses of the pieces of a collection; "text" is
// the score itself. Pieces that have not both are left out, and named.
func openWitnesses(env *environment, path, pair string) (old, new *sides, err error) {
	from, to, ok := strings.Cut(pair, "..")
	if !ok || from == "" || to == "" || strings.Contains(to, "..") {
		return nil, nil, fmt.Errorf("--witnesses cannot be %q\nhint: A..B by their sigla, or A..text against the score", pair)
	}
	c, err := corpus.Open(path)
	if err != nil {
		return nil, nil, err
	}
	out := [2]*sides{{name: path + ", " + from}, {name: path + ", " + to}}
	var known []string
	for i := range c.Pieces {
		p := &c.Pieces[i]
		files := [2]string{}
		for k, siglum := range []string{from, to} {
			if siglum == "text" {
				files[k] = p.Score
			}
			for _, w := range p.Witnesses {
				if w.Siglum == siglum {
					files[k] = w.Score
				}
				if !slices.Contains(known, w.Siglum) {
					known = append(known, w.Siglum)
				}
			}
		}
		if files[0] == "" || files[1] == "" {
			continue
		}
		for k, file := range files {
			out[k].pieces = append(out[k].pieces, sidePiece{p.ID, func() (loaded, error) {
				if p.Fault != nil {
					return loaded{}, p.Fault
				}
				return loadScore(c.Path(file))
			}})
		}
	}
	slices.Sort(known)
	switch left := len(c.Pieces) - len(out[0].pieces); {
	case len(known) == 0:
		return nil, nil, fmt.Errorf("%s names no witnesses\nhint: a collection's manifest names them, piece by piece", path)
	case len(out[0].pieces) == 0:
		return nil, nil, fmt.Errorf("no piece of %s has both %s and %s\n"+
			"hint: its witnesses are %s, and text is the score itself",
			path, from, to, strings.Join(known, ", "))
	case left > 0:
		env.complain("%s without %s or %s: left out", wording.Count(left, "piece"), from, to)
	}
	return out[0], out[1], nil
}

// unpackRevision lays a path of a git revision into a folder of its own.
func unpackRevision(ctx context.Context, revision, path string) (string, error) {
	if strings.HasPrefix(revision, "-") {
		return "", fmt.Errorf("%q is no git revision", revision)
	}
	wanted := path
	if ext := filepath.Ext(path); ext == ".yaml" || ext == ".yml" {
		wanted = filepath.ToSlash(filepath.Dir(path)) // a manifest comes with what it lists
	}
	var out, complaint bytes.Buffer
	cmd := exec.CommandContext(ctx, "git", "archive", "--format=tar", revision, "--", wanted)
	cmd.Stdout, cmd.Stderr = &out, &complaint
	if err := cmd.Run(); err != nil {
		return "", fmt.Errorf("there is no file %s:%s, and git does not know it either: %s\n"+
			"hint: a git revision is given as REVISION:PATH, the path as seen from this folder",
			revision, path, strings.TrimSpace(complaint.String()))
	}
	dir, err := os.MkdirTemp("", "fingerproof-revision-")
	if err != nil {
		return "", fmt.Errorf("unpacking a git revision: %w", err)
	}
	if err := untar(dir, &out); err != nil {
		_ = os.RemoveAll(dir)
		return "", fmt.Errorf("unpacking %s:%s: %w", revision, path, err)
	}
	return dir, nil
}

func untar(dir string, in io.Reader) error {
	root, err := os.OpenRoot(dir) // nothing lands outside it, whatever the archive says
	if err != nil {
		return err
	}
	defer root.Close()
	for archive := tar.NewReader(in); ; {
		h, err := archive.Next()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		if h.Typeflag != tar.TypeReg {
			continue
		}
		if err := root.MkdirAll(filepath.Dir(h.Name), 0o755); err != nil {
			return err
		}
		data, err := io.ReadAll(archive)
		if err != nil {
			return err
		}
		if err := root.WriteFile(h.Name, data, 0o644); err != nil {
			return err
		}
	}
}
