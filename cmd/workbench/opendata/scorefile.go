package opendata

import (
	"fmt"
	"os"
	"path/filepath"

	"fingerproof/corpus/format"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

// ReadScore reads a score file into music.
func ReadScore(path string) (*score.Score, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("reading a score: %w", err)
	}
	return ParseScore(filepath.Base(path), data)
}

// ParseScore reads the bytes of a score file into music.
func ParseScore(name string, data []byte) (*score.Score, error) {
	doc, err := source.Open(name, data, source.DefaultLimits())
	if err != nil {
		return nil, err
	}
	s, _, err := format.Read(doc)
	return s, err
}
