// Package thirdparty holds the licences and notices of the modules that the
// program is built from, as their authors wrote them; .ci/licences collects them.
package thirdparty

import (
	"embed"
	"io/fs"
	"path"
	"slices"
	"strings"
)

//go:embed texts
var texts embed.FS

// Notice names what the fitted tables were fitted to, and says under what they stand.
//
//go:embed NOTICE
var Notice string

// Sources lists the fingered scores, a work a line: title, licence, and the address at which it lies with its encoder's
// name and terms.
//
//go:embed SOURCES.tsv
var Sources string

// Text is one licence or notice.
type Text struct {
	File string // its name, as LICENSE or NOTICE
	Text string
}

// Of gives the texts of a module by its path ("go" for the language's own library), licences before notices; none
// where the module is unknown.
func Of(module string) []Text {
	entries, err := fs.ReadDir(texts, path.Join("texts", module))
	if err != nil {
		return nil
	}
	var found []Text
	for _, e := range entries {
		if e.IsDir() {
			continue // a module below this one
		}
		data, err := fs.ReadFile(texts, path.Join("texts", module, e.Name()))
		if err != nil {
			return nil // an embedded file can be read
		}
		found = append(found, Text{File: e.Name(), Text: string(data)})
	}
	slices.SortFunc(found, func(a, b Text) int { return strings.Compare(a.File, b.File) })
	return found
}
