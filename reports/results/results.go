// Package results writes results for machines.
package results

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"fingerproof/pipeline/state"
)

// list is the findings report: one entry a piece.
type list struct {
	Version int     `json:"version"`
	Pieces  []entry `json:"pieces"`
}

type entry struct {
	Piece    string          `json:"piece"`
	Score    string          `json:"score,omitempty"`
	Error    string          `json:"error,omitempty"`
	Findings []state.Finding `json:"findings"`
}

// Report gathers findings over a collection.
type Report struct{ list list }

// Add takes in a piece that was worked on.
func (r *Report) Add(result *state.Result) {
	f := result.Findings
	if f == nil {
		f = []state.Finding{}
	}
	r.list.Pieces = append(r.list.Pieces, entry{Piece: result.Piece, Score: result.Summary.Score, Findings: f})
}

// Fail takes in a piece that could not be worked on.
func (r *Report) Fail(piece string, err error) {
	r.list.Pieces = append(r.list.Pieces, entry{Piece: piece, Error: err.Error(), Findings: []state.Finding{}})
}

// Write writes the report as indented JSON.
func (r *Report) Write(out io.Writer) error {
	r.list.Version = state.Version
	if r.list.Pieces == nil {
		r.list.Pieces = []entry{}
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(r.list); err != nil {
		return fmt.Errorf("writing findings as JSON: %w", err)
	}
	_, err := out.Write(b.Bytes())
	return err
}
