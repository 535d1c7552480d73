package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/corpus/source"
	"fingerproof/corpus/wording"
)

// part is what a shard leaves for join: what it was asked, and where each of its pieces is kept. It is written last, so
// that where it lies the part is whole.
type part struct {
	Version    int
	Number, Of int
	Program    string   // SHA-256 of the program that made it
	Command    []string // what was asked for, options that change no result left out
	Common     string   // what the keys of all its pieces stand for beside the piece (knownPieces)
	Collection string   // sum of the ids of all pieces that were shared out, in their order
	Today      string   // the day by which stets expired
	Pieces     []partPiece
}

// partPiece is a piece of a part: the key that stands for its inputs, under which it is kept unless it failed, and why it
// did.
type partPiece struct {
	ID     string
	Key    string `json:",omitempty"` // none where its inputs could not be read
	Failed string `json:",omitempty"`
}

const partVersion = 2

func (p *part) name() string { return fmt.Sprintf("part-%d-of-%d.json", p.Number, p.Of) }

var partNames = regexp.MustCompile(`^part-\d+-of-\d+\.json$`)

// write puts the head of a part into its folder.
func (p *part) write(dir string) error {
	data, err := json.MarshalIndent(p, "", " ")
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("making the folder of the parts: %w", err)
	}
	if err := files.Write(filepath.Join(dir, p.name()), append(data, '\n')); err != nil {
		return fmt.Errorf("writing part %d of %d: %w", p.Number, p.Of, err)
	}
	return nil
}

// collectionSum stands for which pieces are shared out.
func collectionSum(c *corpus.Collection) string {
	var b bytes.Buffer
	for i := range c.Pieces {
		fmt.Fprintf(&b, "%q\n", c.Pieces[i].ID)
	}
	return source.Sum(b.Bytes())
}

// parts are all parts of a collection, in their order, with the folders they lie in.
type parts struct {
	list    []part
	folders []string // that hold entries, each once
}

// readParts reads the parts in folders and in the folders right below them, and refuses those that are not one whole.
func readParts(dirs []string) (*parts, error) {
	type found struct {
		part
		file string
	}
	var all []found
	out := &parts{}
	for _, dir := range dirs {
		paths, err := partFiles(dir)
		if err != nil {
			return nil, err
		}
		for _, path := range paths {
			data, err := files.ReadNamed(path, files.StateLimit)
			if err != nil {
				return nil, fmt.Errorf("reading a part: %w", err)
			}
			p := found{file: path}
			if err := json.Unmarshal(data, &p.part); err != nil || p.Version != partVersion {
				return nil, fmt.Errorf("%s is no part that this program can read\n"+
					"hint: make it again with the program that joins", path)
			}
			all = append(all, p)
			if folder := filepath.Dir(path); !slices.Contains(out.folders, folder) {
				out.folders = append(out.folders, folder)
			}
		}
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("no part lies in %s\nhint: name the folder that --parts named, or the one above "+
			"several such folders", wording.List(dirs))
	}
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(a.Number, b.Number) })
	first := all[0]
	for i, p := range all {
		unlike := ""
		switch {
		case p.Of != first.Of:
			unlike = fmt.Sprintf("one is of %d parts and the other of %d", first.Of, p.Of)
		case p.Program != first.Program:
			unlike = "two versions of the program made them"
		case !slices.Equal(p.Command, first.Command):
			unlike = fmt.Sprintf("they were asked for differently: %q and %q", first.Command, p.Command)
		case p.Common != first.Common:
			unlike = "one comes with notation and the other without, or with another engraver"
		case p.Collection != first.Collection:
			unlike = "the collection has other pieces in one than in the other"
		case i > 0 && p.Number == all[i-1].Number:
			return nil, fmt.Errorf("part %d of %d is there twice: %s and %s\nhint: take the older one out",
				p.Number, p.Of, all[i-1].file, p.file)
		}
		if unlike != "" {
			return nil, fmt.Errorf("%s and %s do not belong together: %s\n"+
				"hint: empty the folder and make all parts in one go", first.file, p.file, unlike)
		}
		out.list = append(out.list, p.part)
	}
	return out, out.complete()
}

// partFiles lists the parts in a folder and right below it.
func partFiles(dir string) (out []string, err error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("looking for parts: %w\nhint: name the folder that --parts named when the shards ran", err)
	}
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		if !e.IsDir() {
			if partNames.MatchString(e.Name()) {
				out = append(out, path)
			}
			continue
		}
		below, err := os.ReadDir(path)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("looking for parts: %w", err)
		}
		for _, b := range below {
			if !b.IsDir() && partNames.MatchString(b.Name()) {
				out = append(out, filepath.Join(path, b.Name()))
			}
		}
	}
	return out, nil
}

// complete names the parts that are missing.
func (p *parts) complete() error {
	var missing []string
	next := 1
	for _, one := range p.list {
		for ; next < one.Number; next++ {
			missing = append(missing, fmt.Sprint(next))
		}
		next = one.Number + 1
	}
	for ; next <= p.list[0].Of; next++ {
		missing = append(missing, fmt.Sprint(next))
	}
	if len(missing) == 0 {
		return nil
	}
	n := len(missing)
	if n > mostNamed {
		missing = append(missing[:mostNamed], fmt.Sprintf("%d more", n-mostNamed))
	}
	return fmt.Errorf("of %s %d missing: %s\nhint: --shard %s/%d makes the first of them; then join again",
		wording.Count(p.list[0].Of, "part"), n, wording.List(missing), missing[0], p.list[0].Of)
}

// pieces gives what the parts say of each piece, by id.
func (p *parts) pieces() map[string]partPiece {
	out := map[string]partPiece{}
	for _, one := range p.list {
		for _, piece := range one.Pieces {
			out[piece.ID] = piece
		}
	}
	return out
}

// latest is the last day on which a part was made.
func (p *parts) latest() string {
	day := ""
	for _, one := range p.list {
		day = max(day, one.Today)
	}
	return day
}

// caches open what the parts keep.
func (p *parts) caches() (out []*files.Cache) {
	for _, folder := range p.folders {
		out = append(out, files.OpenCache(folder))
	}
	return out
}
