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
// it well: one line for each part of the head, then one note a line.
func Encode(r *Result) ([]byte, error) {
	var out bytes.Buffer
	out.Grow(perNote*len(r.Notes) + 1<<13)
	out.WriteString("{\n")
	for _, part := range []struct {
		key   string
		value any
		skip  bool
	}{
		{"version", r.Version, false}, {"piece", r.Piece, false}, {"inputs", r.Inputs, false},
		{"summary", r.Summary, false},
		{"redistributions", r.Redistributions, len(r.Redistributions) == 0},
		{"rolls", r.Rolls, len(r.Rolls) == 0},
		{"findings", r.Findings, len(r.Findings) == 0},
		{"changes", r.Changes, len(r.Changes) == 0}, {"collapses", r.Collapses, len(r.Collapses) == 0},
		{"smaller_hand", r.SmallerHand, len(r.SmallerHand) == 0},
		{"returns", r.Returns, len(r.Returns) == 0},
		{"stets", r.Stets, len(r.Stets) == 0}, {"unplaced", r.Unplaced, len(r.Unplaced) == 0},
		{"contradictions", r.Contradictions, len(r.Contradictions) == 0},
		{"asked", r.Asked, len(r.Asked) == 0},
		{"reasons", r.Reasons, len(r.Reasons) == 0},
		{"draft", r.Draft, r.Draft == nil},
		{"open", r.Open, len(r.Open) == 0},
	} {
		if part.skip {
			continue
		}
		line, err := marshal(part.value)
		if err != nil {
			return nil, fmt.Errorf("writing the results of %s: %w", r.Piece, err)
		}
		fmt.Fprintf(&out, "%q:%s,\n", part.key, line)
	}
	out.WriteString(`"notes":[`)
	for i := range r.Notes {
		if i > 0 {
			out.WriteByte(',')
		}
		out.WriteByte('\n')
		if note, ok := appendNote(out.AvailableBuffer(), &r.Notes[i]); ok {
			out.Write(note)
			continue
		}
		if err := marshalTo(&out, &r.Notes[i]); err != nil {
			return nil, fmt.Errorf("writing note %d of %s: %w", r.Notes[i].N, r.Piece, err)
		}
	}
	out.WriteString("\n]}\n")
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
		return nil, fmt.Errorf("reading results of %s: version %d, this program reads version %d\n"+
			"hint: run the piece again", r.Piece, r.Version, Version)
	}
	return &r, nil
}

// perNote is about how many bytes a note takes.
const perNote = 320

func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	err := marshalTo(&b, v)
	return b.Bytes(), err
}

// marshalTo adds a value to a buffer, without the end of line that an encoder puts behind it.
func marshalTo(b *bytes.Buffer, v any) error {
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1)
	return nil
}
