package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"fingerproof/corpus"
	"fingerproof/corpus/files"
	"fingerproof/corpus/source"
	"fingerproof/pipeline"
	"fingerproof/pipeline/4_services/habits"
	"fingerproof/rules/effort"
)

// adaptedWeights adds to weights what was adapted to the digits that the collection decided.
func adaptedWeights(base *pipeline.Weights, c *corpus.Collection) (*pipeline.Weights, error) {
	path := asTyped(filepath.Join(c.Root, filepath.FromSlash(c.HouseHand)))
	data, err := files.Read(path, files.StateLimit)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("%s names house_hand %s, which is not there\n"+
				"hint: `fingerproof fit` writes it, or take the key out", asTyped(c.Manifest), c.HouseHand)
		}
		return nil, fmt.Errorf("reading the edition's fitted weights: %w", err)
	}
	file, err := habits.Decode(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	table, err := file.On(base.Table(), base.Sum)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	var changes bytes.Buffer // what counts is what changes, not when it was fitted
	if err := file.Changes.Write(&changes); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return pipeline.NewWeights(table, source.Sum(append([]byte(base.Sum+"\n"), changes.Bytes()...))), nil
}

// readWeights reads a table of weights; the one that comes with the program where none is named.
func readWeights(path string) (*pipeline.Weights, error) {
	if path == "" {
		return pipeline.ShippedWeights(), nil
	}
	data, err := files.Read(path, files.StateLimit)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("there is no file of weights %s", path)
		}
		return nil, fmt.Errorf("reading the weights: %w", err)
	}
	table, err := effort.Read(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("reading the weights %s: %w", path, err)
	}
	return pipeline.NewWeights(table, source.Sum(data)), nil
}
