// Package witnesses is the stage that reads the sources of a piece beside the
// text: manuscripts, first editions, teaching copies.
package witnesses

import (
	"fmt"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/format"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

// Input is what the manifest names, with the files.
type Input struct {
	Named []corpus.Witness
	Files [][]byte // parallel to Named
}

// Witness is a source of the piece beside the text.
type Witness struct {
	Siglum string
	// Old says that it counts + 1 2 3 4, + the thumb.
	Old bool
	// Responsibility of the digits that stand in it.
	Responsibility score.Responsibility
	Score          *score.Score
}

// Read opens and reads the sources that the manifest names, in its order.
func Read(in Input) (out []Witness, err error) {
	for k, data := range in.Files {
		named := &in.Named[k]
		witness := Witness{Siglum: named.Siglum, Old: named.Numbering == corpus.Old}
		if err := witness.Responsibility.UnmarshalText([]byte(named.Responsibility)); err != nil {
			return nil, err
		}
		doc, err := source.Open(named.Score, data, source.DefaultLimits())
		if err != nil {
			return nil, fmt.Errorf("witness %s: %w", named.Siglum, err)
		}
		if witness.Score, _, err = format.ReadSource(doc, named.Siglum); err != nil {
			return nil, fmt.Errorf("witness %s: %w", named.Siglum, err)
		}
		out = append(out, witness)
	}
	return out, nil
}

// Modern gives the fingers, 1 to 5, of a text in the old numbering + 1 2 3 4
// (FACTS §5.2: + the thumb, 1 the index finger); nil where it is none. A 5, of
// which that numbering has none, is none: the numbering may be mixed.
func Modern(text string) []int {
	var out []int
	for _, c := range strings.Trim(strings.TrimSpace(text), "()[]") {
		switch {
		case strings.ContainsRune("+xX×✕", c):
			out = append(out, 1)
		case c >= '1' && c <= '4':
			out = append(out, int(c-'0')+1)
		case strings.ContainsRune(" -–—/", c):
		default:
			return nil
		}
	}
	return out
}
