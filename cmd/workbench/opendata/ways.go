package opendata

import (
	"fmt"
	"os"
	"path/filepath"

	"fingerproof/corpus"
	"fingerproof/pipeline"
	"fingerproof/policies"
)

// wayOf prepares a score for its way; one that cannot be read fails there.
func WayOf(path string, p *policies.Policy) *pipeline.PieceRun {
	data, err := os.ReadFile(path)
	piece := &corpus.Piece{ID: filepath.Base(path), Score: filepath.Base(path), Scoring: corpus.TwoHands}
	if err != nil {
		piece.Fault = fmt.Errorf("reading a score: %w", err)
	}
	return &pipeline.PieceRun{Piece: piece, Data: data, Policy: p, Weights: pipeline.ShippedWeights()}
}
