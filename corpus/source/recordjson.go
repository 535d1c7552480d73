package source

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
)

// Indented is a record as JSON, with one space a level: the bytes of json.MarshalIndent(record, "", " "). Its edits,
// of which there are thousands, are written one by one.
func (r *Record) Indented() ([]byte, error) {
	if r == nil {
		return []byte("null"), nil
	}
	head := *r
	head.Edits = []Edit{}
	data, err := json.MarshalIndent(&head, "", " ")
	if err != nil {
		return nil, fmt.Errorf("writing a record: %w", err)
	}
	const none = "\n \"edits\": []"
	at := bytes.LastIndex(data, []byte(none)) // what stands behind it has no such line
	if len(r.Edits) == 0 || at < 0 {
		return json.MarshalIndent(r, "", " ")
	}
	size := len(data)
	for i := range r.Edits {
		size += 80 + len(r.Edits[i].Old) + 2*len(r.Edits[i].New)
	}
	out := append(make([]byte, 0, size), data[:at+len(none)-1]...)
	for i := range r.Edits {
		e := &r.Edits[i]
		if i > 0 {
			out = append(out, ',')
		}
		out = strconv.AppendInt(append(out, "\n  {\n   \"offset\": "...), int64(e.Offset), 10)
		for _, part := range []struct{ name, text string }{{"old", e.Old}, {"new", e.New}} {
			if part.text != "" {
				out = append(append(append(out, ",\n   \""...), part.name...), "\": "...)
				out = AppendJSON(out, part.text)
			}
		}
		out = append(out, "\n  }"...)
	}
	return append(append(out, "\n "...), data[at+len(none)-1:]...), nil
}

// inJSON is how a character stands in JSON, as encoding/json writes it; "" for itself.
var inJSON = [256]string{'"': `\"`, '\\': `\\`, '\n': `\n`, '\t': `\t`, '<': `\u003c`, '>': `\u003e`, '&': `\u0026`}

// AppendJSON writes a text as encoding/json does.
func AppendJSON(out []byte, text string) []byte {
	begun, done := len(out), 0
	out = append(out, '"')
	for i := range len(text) {
		b := text[i]
		if written := inJSON[b]; written != "" {
			out = append(append(out, text[done:i]...), written...)
			done = i + 1
		} else if b < ' ' || b >= 0x7f {
			whole, _ := json.Marshal(text) // a string has no fault
			return append(out[:begun], whole...)
		}
	}
	return append(append(out, text[done:]...), '"')
}
