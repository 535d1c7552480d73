// Package format is the one door to scores in files, whichever format they
// have: it tells a document's format by its root element, and reads and writes
// it by that format's own door.
package format

import (
	"bytes"
	"regexp"
	"strings"

	"fingerproof/corpus/mei"
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

// Layout remembers where the music of a document stands in its text.
type Layout interface {
	// Splice turns a marking into edits of the text, sorted by offset.
	Splice(*source.Document, score.Marking, score.SpliceOptions) ([]source.Edit, error)
	// TakeOut gives the edits that take digits out of the text, by note and indication, with what an edition says of itself.
	TakeOut(doc *source.Document, digits [][]bool) []source.Edit
	// TakeOutDigits takes out the digits alone.
	TakeOutDigits(doc *source.Document, digits [][]bool) []source.Edit
}

// FieldPrefix begins the names of what an edition of ours says of itself.
const FieldPrefix = musicxml.FieldPrefix

// Read turns a document into music and says where everything stands in it.
// Errors are *source.Error and name file and place.
func Read(doc *source.Document) (*score.Score, Layout, error) { return ReadSource(doc, "") }

// ReadSource reads the text that a source has, where a document holds several:
// of an MEI apparatus the readings of that siglum. Elsewhere it is Read.
func ReadSource(doc *source.Document, siglum string) (*score.Score, Layout, error) {
	if source.IsMEI(doc.Text) {
		s, layout, err := mei.Read(doc, mei.DefaultLimits(), mei.Options{Source: siglum})
		if err != nil {
			return nil, nil, err
		}
		return s, layout, nil
	}
	s, layout, err := musicxml.Read(doc, musicxml.DefaultLimits())
	if err != nil {
		return nil, nil, err
	}
	return s, layout, nil
}

// FieldTags are what stands before and after the content of a field of ours in a document.
func FieldTags(doc *source.Document, name string) (before, after string) {
	if source.IsMEI(doc.Text) {
		return mei.Field(source.RootPrefix(doc.Text), name)
	}
	return `<miscellaneous-field name="` + FieldPrefix + name + `">`, `</miscellaneous-field>`
}

// FieldIn finds the content of a field of ours in a text, or a part of one, however its tag is written.
func FieldIn(text, name string) (content string, found bool) {
	if !strings.Contains(text, FieldPrefix+name) { // most texts have none, and are long
		return "", false
	}
	field := regexp.MustCompile(`<(?:miscellaneous-field\b[^>]*\bname|(?:[\w.-]+:)?extMeta\b[^>]*\btype)\s*=\s*["']` +
		regexp.QuoteMeta(FieldPrefix+name) + `["'][^>]*>([^<]*)<`)
	m := field.FindStringSubmatch(text)
	if m == nil {
		return "", false
	}
	return strings.Join(strings.Fields(m[1]), ""), true
}

// Partwise is a score as MusicXML (score-partwise), for engravers: the text
// itself where it is, and a score in another form written so, note for note in
// the order in which Read has them. Text is UTF-8.
func Partwise(text []byte) ([]byte, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	head := string(text[:min(len(text), 1<<16)])
	if !source.IsMEI(head) && !strings.Contains(head, "<score-timewise") {
		return text, nil
	}
	doc, err := source.FromText(string(text))
	if err != nil {
		return nil, err
	}
	out := ""
	if source.IsMEI(head) {
		out, err = mei.Partwise(doc, mei.DefaultLimits())
	} else {
		out, err = musicxml.Partwise(doc, musicxml.DefaultLimits())
	}
	return []byte(out), err
}
