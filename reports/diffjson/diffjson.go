// Package diffjson writes differences for machines.
package diffjson

import (
	"encoding/json"
	"io"

	"fingerproof/pipeline/4_services/compare"
)

// Write writes a diff as indented JSON.
func Write(out io.Writer, d *compare.Diff) error {
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(struct {
		Version int `json:"version"`
		*compare.Diff
		NotCompared []string `json:"not_compared"`
	}{1, d, d.NotCompared()})
}
