package opendata

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/pflag"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
)

// Folder is the folder of shared material, or where it should lie.
func Folder() string {
	if dir, found := shared.Find(""); found {
		return dir
	}
	return filepath.Join("..", "shared")
}

// Place names a collection of the shared material; "fingered" is one.
func Place(shared, collection string) string { return filepath.Join(shared, "data", collection) }

// FolderFlag adds the flag that names the folder of shared material.
func FolderFlag(f *pflag.FlagSet, folder *string) {
	f.StringVar(folder, "shared", Folder(), "folder of shared material")
}

// Sample is a choice of scores, taken evenly from the fingered and the engraved ones, with a seed for what is done to
// them.
type Sample struct {
	Shared string
	Scores int
	Seed   uint64
}

// Flags adds the flags of a sample that has so many scores where nothing is said.
func (s *Sample) Flags(f *pflag.FlagSet, scores int) {
	FolderFlag(f, &s.Shared)
	f.IntVar(&s.Scores, "scores", scores, "how many scores to take")
	f.Uint64Var(&s.Seed, "seed", 1, "seed of the choices")
}

// Each reads the scores one by one and gives each with its own source of choices.
func (s *Sample) Each(do func(name string, data []byte, rng *rand.Rand) error) error {
	files, err := Scores(s.Shared, s.Scores)
	if err != nil {
		return err
	}
	return EachFile(files, s.Seed, do)
}

// EachFile reads files one by one and gives each with its own source of choices.
func EachFile(files []string, seed uint64, do func(name string, data []byte, rng *rand.Rand) error) error {
	for i, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			return fmt.Errorf("reading a score: %w", err)
		}
		if err := do(filepath.Base(file), data, rand.New(rand.NewPCG(seed, uint64(i)))); err != nil {
			return err
		}
	}
	return nil
}

// Scores takes so many scores evenly from the fingered and the engraved folder, half from each.
func Scores(shared string, n int) ([]string, error) {
	var out []string
	for _, collection := range []string{"fingered", "engraved"} {
		dir := Place(shared, collection)
		all, err := filepath.Glob(filepath.Join(dir, "*.mxl"))
		if err != nil || len(all) == 0 {
			return nil, fmt.Errorf("there is no score in %s\nhint: name the folder of shared material with --shared", dir)
		}
		slices.Sort(all)
		want := max(n/2, 1)
		for k := range want {
			out = append(out, all[k*len(all)/want])
		}
	}
	return out, nil
}

// EveryNth opens a collection or a folder of scores and keeps every so many-th piece of it, the first among them.
func EveryNth(path string, every int) (*corpus.Collection, error) { return Slice(path, every, 0) }

// Slice keeps every so many-th piece from one on, counted from 0: so many slices make the whole.
func Slice(path string, every, from int) (*corpus.Collection, error) {
	c, err := corpus.Open(path)
	if err != nil {
		return nil, err
	}
	every = max(every, 1)
	kept := c.Pieces[:0]
	for i := range c.Pieces {
		if i%every == from%every {
			kept = append(kept, c.Pieces[i])
		}
	}
	c.Pieces = kept
	return c, nil
}
