package corpus

import (
	"encoding/json"
	"fmt"
)

// Settings spells what the manifest says of a piece, each key in JSON: all
// but its name, its file and its policy. What it leaves open is left out.
func (p *Piece) Settings() map[string]string {
	said := *p
	said.ID, said.Title, said.Score, said.Policy, said.Fault = "", "", "", "", nil
	data, err := json.Marshal(said)
	if err != nil {
		panic(err) // plain values
	}
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(data, &fields); err != nil {
		panic(err) // written above
	}
	out := map[string]string{}
	for key, value := range fields {
		if v := string(value); v != "null" && v != `""` && v != "0" && v != `{"Low":0,"High":0}` {
			out[key] = v
		}
	}
	return out
}

// WithSettings gives a piece with settings as Settings spelled them.
func WithSettings(p Piece, settings map[string]string) (Piece, error) {
	fields := map[string]json.RawMessage{}
	for key, value := range settings {
		fields[key] = json.RawMessage(value)
	}
	data, err := json.Marshal(fields)
	if err != nil {
		return p, fmt.Errorf("reading the settings of %s: %w", p.ID, err)
	}
	out := Piece{ID: p.ID, Title: p.Title, Score: p.Score, Policy: p.Policy}
	if err := json.Unmarshal(data, &out); err != nil {
		return p, fmt.Errorf("reading the settings of %s: %w", p.ID, err)
	}
	return out, nil
}
