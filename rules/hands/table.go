package hands

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

// Table is a table of weights.
type Table struct {
	w    weights
	from string // where it comes from, in a sentence
}

//go:embed weights.json
var shippedTable []byte

// shipped is the table that Infer uses.
var shipped = func() *Table {
	t, err := ReadTable(shippedTable)
	if err != nil {
		panic(err) // the table is part of the program, and a test reads it
	}
	return t
}()

// Provenance says what the table that Infer uses was fitted to.
func Provenance() string { return shipped.from }

// ShippedSum is the sum of the table that Infer uses.
func ShippedSum() string { return source.Sum(shippedTable) }

// ReadTable reads a table: a row of weights in thousandths for each block of features.
func ReadTable(data []byte) (*Table, error) {
	var file struct {
		Provenance string             `json:"provenance"`
		Weights    map[string][]int32 `json:"weights"`
	}
	if err := json.Unmarshal(data, &file); err != nil {
		return nil, fmt.Errorf("reading the weights of the hands: %w", err)
	}
	t := &Table{from: file.Provenance}
	for i, b := range names[:len(names)-1] {
		row, n := file.Weights[b.name], names[i+1].at-b.at
		if len(row) != n {
			return nil, fmt.Errorf("reading the weights of the hands: %s has %d weights, not %d", b.name, len(row), n)
		}
		copy(t.w[b.at:], row)
	}
	return t, nil
}

// Encode spells a table with a word on where it comes from.
func (t *Table) Encode(provenance string) string {
	var b strings.Builder
	from, _ := json.Marshal(provenance) // a string always marshals
	fmt.Fprintf(&b, "{\n  \"provenance\": %s,\n  \"weights\": {\n", from)
	for i, n := range names[:len(names)-1] {
		row, _ := json.Marshal(t.w[n.at:names[i+1].at])
		comma := ","
		if i == len(names)-2 {
			comma = ""
		}
		fmt.Fprintf(&b, "    %q: %s%s\n", n.name, row, comma)
	}
	b.WriteString("  }\n}\n")
	return b.String()
}

// Infer gives the hand of every note, as the function of that name, by this table.
func (t *Table) Infer(notes []Keystroke) []score.Hand { return infer(notes, &t.w) }
