package habits

import (
	"bytes"
	"encoding/json"
	"fmt"

	"fingerproof/rules/effort"
)

// FileName is what the changes of a collection are called beside its policy.
const FileName = "house-hand.json"

// fileVersion is the version of the form of the file.
const fileVersion = 1

// Source is a piece whose decided digits the changes were fitted to.
type Source struct {
	Piece     string `json:"piece"`
	Digits    int    `json:"digits"`
	Decisions string `json:"decisions"` // SHA-256 of what the decisions said
}

// File is what was learned, as it is kept: changes to a table of weights, and where they come from.
type File struct {
	Base     string // SHA-256 of the table they are added to
	BaseName string
	Engine   string // version that fitted them
	When     string // day
	Sources  []Source
	Digits   int
	Strength Strength
	// Before, After and Foretold are those of Outcome.
	Before, After, Foretold int
	Changes                 *effort.Weights
}

type fileForm struct {
	Version  int             `json:"version"`
	Note     string          `json:"note"`
	Base     string          `json:"base"`
	BaseName string          `json:"base_name"`
	Engine   string          `json:"engine"`
	When     string          `json:"when"`
	Digits   int             `json:"digits"`
	Strength int             `json:"strength_percent"`
	Habits   bool            `json:"habits_too"`
	Memory   int             `json:"memory_percent,omitempty"`
	Foretold int             `json:"foretold"`
	Before   int             `json:"agreed_before"`
	After    int             `json:"agreed_after"`
	Sources  []Source        `json:"fitted_to"`
	Changes  json.RawMessage `json:"changes"`
}

const note = "The hand of this edition: changes to the weights that come with the program, fitted by `fingerproof fit` " +
	"to digits that its editors decided. Made by the program; fit again rather than edit."

// Encode writes the file; the same content gives the same bytes.
func (f *File) Encode() ([]byte, error) {
	var table bytes.Buffer
	if err := f.Changes.Write(&table); err != nil {
		return nil, fmt.Errorf("writing the edition's fitted weights: %w", err)
	}
	form := fileForm{
		fileVersion, note, f.Base, f.BaseName, f.Engine, f.When, f.Digits, f.Strength.Percent, f.Strength.Habits,
		f.Strength.Memory, f.Foretold, f.Before, f.After, f.Sources, table.Bytes(),
	}
	data, err := json.MarshalIndent(form, "", " ")
	if err != nil {
		return nil, fmt.Errorf("writing the edition's fitted weights: %w", err)
	}
	return append(data, '\n'), nil
}

// Decode reads a file. Keys that are unknown and versions of later programs are errors.
func Decode(data []byte) (*File, error) {
	var f fileForm
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&f); err != nil {
		return nil, fmt.Errorf("reading the edition's fitted weights: %w\n"+
			"hint: `fingerproof fit` writes it anew from the decisions", err)
	}
	if f.Version != fileVersion {
		return nil, fmt.Errorf("reading the edition's fitted weights: its version is %d, this program reads %d\n"+
			"hint: `fingerproof fit` writes it anew from the decisions", f.Version, fileVersion)
	}
	changes, err := effort.Read(bytes.NewReader(f.Changes))
	if err != nil {
		return nil, fmt.Errorf("reading the edition's fitted weights: %w", err)
	}
	return &File{
		f.Base, f.BaseName, f.Engine, f.When, f.Sources, f.Digits, Strength{f.Strength, f.Habits, f.Memory}, f.Before, f.After,
		f.Foretold, changes,
	}, nil
}

// On gives the table with the changes added. A table other than the one they were fitted to is an error: they would
// mean something else.
func (f *File) On(table *effort.Weights, sum string) (*effort.Weights, error) {
	if f.Base != sum {
		return nil, fmt.Errorf(
			"the edition's fitted weights belong to another table (%q, %.12s…) than this one (%q, %.12s…)\n"+
				"hint: run `fingerproof fit` again, or take `house_hand` out of the manifest",
			f.BaseName,
			f.Base,
			table.Name,
			sum,
		)
	}
	return table.Plus(f.Changes), nil
}
