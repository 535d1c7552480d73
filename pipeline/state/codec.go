package state

import (
	"bytes"
	_ "embed" // the schema
	"encoding/json"
	"fmt"
)

// Schema is the JSON schema (draft 2020-12) of a results file.
//
//go:embed results.schema.json
var Schema []byte

// Encode writes a result so that machines read it and version control shows
// it well: the head indented, then one note a line.
func Encode(r *Result) ([]byte, error) {
	head := *r
	head.Notes = nil
	top, err := marshal(head, true)
	if err != nil {
		return nil, fmt.Errorf("writing the results of %s: %w", r.Piece, err)
	}
	var out bytes.Buffer
	out.Write(bytes.TrimSuffix(bytes.TrimRight(top, "\n"), []byte("null\n}")))
	out.WriteString("[")
	for i := range r.Notes {
		line, err := marshal(&r.Notes[i], false)
		if err != nil {
			return nil, fmt.Errorf("writing note %d of %s: %w", r.Notes[i].N, r.Piece, err)
		}
		if i > 0 {
			out.WriteByte(',')
		}
		out.WriteByte('\n')
		out.Write(bytes.TrimRight(line, "\n"))
	}
	out.WriteString("\n]\n}\n")
	return out.Bytes(), nil
}

// Decode reads what Encode writes. Unknown keys and other versions are errors.
func Decode(data []byte) (*Result, error) {
	var r Result
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&r); err != nil {
		return nil, fmt.Errorf("reading results: %w", err)
	}
	if r.Version != Version {
		return nil, fmt.Errorf("reading results of %s: version %d, this program reads version %d\nhint: run the piece again", r.Piece, r.Version, Version)
	}
	return &r, nil
}

func marshal(v any, indent bool) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if indent {
		e.SetIndent("", " ")
	}
	err := e.Encode(v)
	return b.Bytes(), err
}
