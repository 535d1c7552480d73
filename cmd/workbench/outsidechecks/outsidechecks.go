// Package outsidechecks asks programs outside the project about editions: the published schema, and the shared tool that
// compares texts.
package outsidechecks

import (
	"os"
	"os/exec"
	"path/filepath"

	"fingerproof/corpus"
	"fingerproof/corpus/source"
)

// outsideChecks asks programs outside the project about an edition.
type Checks struct {
	Shared string // folder of shared material: schemas and tools
	Out    func(format string, args ...any)
}

// xsd asks xmllint whether a score is valid MusicXML 4.0.
func (c Checks) Xsd(dir string, data []byte) bool {
	doc, err := source.Open("score", data, source.DefaultLimits())
	if err != nil {
		return false
	}
	schemas, err := filepath.Abs(filepath.Join(c.Shared, "schemas", "musicxml-4.0"))
	if err != nil {
		return false
	}
	path := filepath.Join(dir, "plain.musicxml")
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

// isUntouched asks the shared tool whether an edition holds the text of its score unchanged.
func (c Checks) IsUntouched(dir string, p *corpus.Piece, data, edition []byte) bool {
	ext := filepath.Ext(p.Score)
	a, b := filepath.Join(dir, "a"+ext), filepath.Join(dir, "b"+ext)
	if os.WriteFile(a, data, 0o644) != nil || os.WriteFile(b, edition, 0o644) != nil {
		return false
	}
	said, err := exec.Command("python3", filepath.Join(c.Shared, "tools", "untouched.py"), a, b).CombinedOutput()
	if err != nil {
		c.Out("%s", said)
	}
	return err == nil
}
