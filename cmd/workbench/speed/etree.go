package speed

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"

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

// writeRepeated writes a score whose measures stand so many times one after the other, numbered on. What repeats or ends
// stays where it was in each of them.
func writeRepeated(from, to string, times int) error {
	data, err := os.ReadFile(from)
	if err != nil {
		return fmt.Errorf("reading a score: %w", err)
	}
	opened, err := source.Open(from, data, source.DefaultLimits())
	if err != nil {
		return err
	}
	tree := etree.NewDocument()
	if err := tree.ReadFromString(opened.Text); err != nil {
		return fmt.Errorf("reading %s: %w", from, err)
	}
	for _, part := range tree.FindElements("/score-partwise/part") {
		measures := part.SelectElements("measure")
		for k := 1; k < times; k++ {
			for i, m := range measures {
				again := m.Copy()
				again.CreateAttr("number", strconv.Itoa(k*len(measures)+i+1))
				part.AddChild(again)
			}
		}
	}
	return tree.WriteToFile(to)
}
