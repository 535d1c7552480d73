// Package results writes results for machines.
package results

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"fingerproof/pipeline/3_records/state"
)

// list is the findings report: one entry a piece, and what they come to.
type list struct {
	Version    int          `json:"version"`
	Severities state.Counts `json:"severities"`
	Stetted    int          `json:"stetted"`
	Failed     int          `json:"failed"`
	Pieces     []entry      `json:"pieces"`
}

type entry struct {
	Piece    string          `json:"piece"`
	Score    string          `json:"score,omitempty"`
	Error    string          `json:"error,omitempty"`
	Findings []state.Finding `json:"findings"`
	Stets    []state.Stet    `json:"stets,omitempty"`
}

// Write writes the findings of pieces as indented JSON, findings let stand apart.
func Write(out io.Writer, outcomes []state.Outcome) error {
	t := state.TotalOf(outcomes)
	l := list{Version: state.Version, Severities: t.Counts, Stetted: t.Stets, Failed: t.Failed, Pieces: []entry{}}
	for i := range outcomes {
		o := &outcomes[i]
		e := entry{Piece: o.Piece, Score: o.File, Error: o.Problem, Findings: o.Findings, Stets: o.Stets}
		if e.Findings == nil {
			e.Findings = []state.Finding{}
		}
		l.Pieces = append(l.Pieces, e)
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(l); err != nil {
		return fmt.Errorf("writing findings as JSON: %w", err)
	}
	_, err := out.Write(b.Bytes())
	return err
}
