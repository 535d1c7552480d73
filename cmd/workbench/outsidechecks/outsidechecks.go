// Package outsidechecks asks programs outside the project about editions: the published schema, and the shared tool
// that compares texts.
package outsidechecks

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"

	"fingerproof/corpus"
	"fingerproof/corpus/shared"
	"fingerproof/corpus/source"
)

// Checks asks about editions, and counts what it was asked.
type Checks struct {
	Shared string // folder of shared material: schemas and tools
	Out    io.Writer
	Dir    string // folder for the files that the programs read
}

// Open makes the folder for the files that the programs read.
func Open(shared string, out io.Writer) (*Checks, error) {
	dir, err := os.MkdirTemp("", "outside-checks-")
	if err != nil {
		return nil, fmt.Errorf("making a folder for the outside checks: %w", err)
	}
	return &Checks{Shared: shared, Out: out, Dir: dir}, nil
}

// Close takes the folder away.
func (c *Checks) Close() error { return os.RemoveAll(c.Dir) }

// Say prints a line.
func (c *Checks) Say(format string, args ...any) { fmt.Fprintf(c.Out, format+"\n", args...) }

// IsValid asks xmllint whether a score is valid MusicXML 4.0.
func (c *Checks) IsValid(data []byte) bool {
	doc, err := source.Open("score", data, source.DefaultLimits())
	if err != nil {
		return false
	}
	schemas, err := filepath.Abs(filepath.Join(c.Shared, "schemas", "musicxml-4.0"))
	if err != nil {
		return false
	}
	path := filepath.Join(c.Dir, "plain.musicxml")
	text := data
	if doc.Entry != "" {
		text = []byte(doc.Text) // packed scores here are UTF-8
	}
	if err := os.WriteFile(path, text, 0o644); err != nil {
		return false
	}
	lint := exec.Command("xmllint", "--nonet", "--noout", "--schema", filepath.Join(schemas, "musicxml.xsd"), path)
	lint.Env = append(os.Environ(), "XML_CATALOG_FILES=file://"+filepath.Join(schemas, "catalog.xml"))
	return lint.Run() == nil
}

// IsUntouched asks the shared tool whether an edition holds the text of its score unchanged.
func (c *Checks) IsUntouched(p *corpus.Piece, data, edition []byte) bool {
	ext := filepath.Ext(p.Score)
	a, b := filepath.Join(c.Dir, "a"+ext), filepath.Join(c.Dir, "b"+ext)
	if os.WriteFile(a, data, 0o644) != nil || os.WriteFile(b, edition, 0o644) != nil {
		return false
	}
	said, err := exec.Command("python3", "-c", shared.Untouched, filepath.Join(c.Shared, "tools"), a, b).CombinedOutput()
	if err != nil {
		c.Say("%s", said)
	}
	return err == nil
}

// ValidMEI asks xmllint which documents are valid MEI 5.1 (mei-all), all at once: reading the schema takes longer than
// reading a score.
func (c *Checks) ValidMEI(documents [][]byte) ([]bool, error) {
	valid := make([]bool, len(documents))
	if len(documents) == 0 {
		return valid, nil
	}
	schema, err := filepath.Abs(filepath.Join(c.Shared, "schemas", "mei-5.1", "mei-all.rng"))
	if err != nil {
		return nil, err
	}
	args := []string{"--nonet", "--noout", "--relaxng", schema}
	for i, data := range documents {
		path := filepath.Join(c.Dir, fmt.Sprintf("%d.mei", i))
		if err := os.WriteFile(path, data, 0o644); err != nil {
			return nil, err
		}
		args = append(args, path)
	}
	said, err := exec.Command("xmllint", args...).CombinedOutput()
	judged := 0
	for i := range documents {
		path := args[4+i]
		valid[i] = bytes.Contains(said, []byte(path+" validates"))
		if valid[i] || bytes.Contains(said, []byte(path+" fails to validate")) {
			judged++
		}
		_ = os.Remove(path)
	}
	if judged < len(documents) {
		return nil, fmt.Errorf("asking xmllint about MEI: %w: %.300s", err, said)
	}
	return valid, nil
}
