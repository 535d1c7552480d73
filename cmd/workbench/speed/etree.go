package speed

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/beevik/etree"
	"golang.org/x/sync/errgroup"

	"fingerproof/corpus"
	"fingerproof/corpus/source"
)

// toTheFloor unpacks, parses and writes every score of the folders named, so many at once. What is no XML is left out.
func toTheFloor(folders []string, to string, workers int) error {
	if err := os.MkdirAll(to, 0o755); err != nil {
		return err
	}
	var group errgroup.Group
	group.SetLimit(workers)
	for _, folder := range folders {
		c, err := corpus.Open(folder)
		if err != nil {
			return err
		}
		for i := range c.Pieces {
			score := c.Path(c.Pieces[i].Score)
			group.Go(func() error { return parseAndWrite(score, filepath.Join(to, filepath.Base(score)+".xml")) })
		}
	}
	return group.Wait()
}

// parseAndWrite reads a score into a tree of elements and writes it again.
func parseAndWrite(from, to string) error {
	data, err := os.ReadFile(from)
	if err != nil {
		return fmt.Errorf("reading a score: %w", err)
	}
	opened, err := source.Open(from, data, source.DefaultLimits())
	if err != nil {
		return nil // the program leaves it out, too
	}
	tree := etree.NewDocument()
	if err := tree.ReadFromString(opened.Text); err != nil {
		return nil
	}
	return tree.WriteToFile(to)
}
