package register

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// head begins a file: who opens it learns what it is.
const head = "# Corrections of a volume from proof to proof, kept by `fingerproof diff --register`.\n" +
	"# state is open, missed, done or kept. A reading that is to stay as it is in the proof: state: kept, " +
	"with by and comment.\n"

// Write gives the register as a file: entries piece by piece, a line for each
// field, so that two people's changes merge line by line. What could not be read again is an error.
func Write(r *Register) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString(head)
	e := yaml.NewEncoder(&b)
	e.SetIndent(2)
	if err := e.Encode(r); err != nil {
		return nil, fmt.Errorf("writing the register of corrections: %w", err)
	}
	if err := e.Close(); err != nil {
		return nil, fmt.Errorf("writing the register of corrections: %w", err)
	}
	if _, err := Read("that were to be written", b.Bytes()); err != nil {
		return nil, fmt.Errorf("writing the register of corrections, which stays as it was: %w", err)
	}
	return b.Bytes(), nil
}

// Read reads a register, or the marks saved from a page; file is its name for
// messages.
func Read(file string, data []byte) (*Register, error) {
	fail := func(format string, args ...any) (*Register, error) {
		return nil, fmt.Errorf("reading the corrections %s: %s\n"+
			"hint: the file is written by `fingerproof diff --register`, or saved from the page of a diff",
			file, fmt.Sprintf(format, args...))
	}
	var r Register
	d := yaml.NewDecoder(bytes.NewReader(data))
	d.KnownFields(true)
	if err := d.Decode(&r); errors.Is(err, io.EOF) {
		return fail("it is empty")
	} else if err != nil {
		return fail("%s", strings.NewReplacer("yaml: ", "", "unmarshal errors:\n  ", "").Replace(err.Error()))
	}
	seen := map[string]bool{}
	for i := range r.Entries {
		e := &r.Entries[i]
		switch {
		case e.ID == "" || e.Piece == "":
			return fail("correction %d names no id or no piece", i+1)
		case seen[e.ID]:
			return fail("correction %s stands there twice: two versions of the file were joined", e.ID)
		case !slices.Contains(States(), e.State):
			return fail("correction %s cannot be %q; it is open, missed, done or kept", e.ID, e.State)
		}
		seen[e.ID] = true
	}
	return &r, nil
}
