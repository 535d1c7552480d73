package source

import (
	"bytes"
	"fmt"
	"strings"
)

// Limits bound what a file may ask for.
type Limits struct {
	FileBytes int64 // of the file as it lies on disk
	TextBytes int64 // of the score's text, unpacked
	Entries   int   // in a compressed file
	Inflation int64 // how many times larger an entry may be than its packed bytes, beyond the first megabytes
}

// DefaultLimits leave room for a full opera in piano score.
func DefaultLimits() Limits {
	return Limits{FileBytes: 128 << 20, TextBytes: 128 << 20, Entries: 1000, Inflation: 250}
}

// Document is an opened score file. It is never changed.
type Document struct {
	Name  string // as the caller named it, for messages and records
	Entry string // the score's name inside a compressed file, else empty
	Text  string // decoded, without byte order mark; offsets of edits count its bytes

	data    []byte // the file as it was
	charset charset
	archive *archive // nil for a plain file
}

// Open decodes a score file, compressed or plain: what it is, is seen from
// its bytes and not from its name. The data must not be changed afterwards.
func Open(name string, data []byte, limits Limits) (*Document, error) {
	doc := &Document{Name: name, data: data}
	if int64(len(data)) > limits.FileBytes {
		return nil, &Error{File: name, Problem: fmt.Sprintf("the file has %d bytes, more than the %d allowed", len(data), limits.FileBytes)}
	}
	body := data
	if Packed(data) {
		a, err := openArchive(name, data, limits)
		if err != nil {
			return nil, err
		}
		doc.archive, doc.Entry, body = a, a.root.Name, a.text
	}
	if int64(len(body)) > limits.TextBytes {
		return nil, doc.errorf("the score has %d bytes, more than the %d allowed", len(body), limits.TextBytes)
	}
	text, set, fault := decode(body)
	if fault != nil {
		fault.File, fault.Entry = doc.Name, doc.Entry
		return nil, fault
	}
	doc.Text, doc.charset = text, set
	if at := strings.IndexByte(text, 0); at >= 0 { // beside an edit it could pass for half a character of another encoding
		return nil, doc.Fault(at, "a NUL character stands here, which no XML has", "export or fetch the score again")
	}
	if m := declaredVersion.FindStringSubmatch(text[:min(len(text), 1024)]); m != nil && m[1] != "1.0" {
		return nil, doc.Fault(0, fmt.Sprintf("this is XML %s; only XML 1.0 is read", m[1]), `change the declaration to <?xml version="1.0"?>: scores use nothing that is new in 1.1`)
	}
	return doc, nil
}

// Packed says that a file is a compressed score, as its bytes show, whatever its name: lines of what is inside are none of it.
func Packed(data []byte) bool { return bytes.HasPrefix(data, []byte("PK")) }

// FromText is a document of text that is decoded already, whatever its declaration says.
func FromText(text string) (*Document, error) {
	doc := &Document{Name: "score", Text: text, data: []byte(text), charset: charset{name: "utf-8"}}
	if at := strings.IndexByte(text, 0); at >= 0 {
		return nil, doc.Fault(at, "a NUL character stands here, which no XML has", "")
	}
	return doc, nil
}

// Encoding names the character encoding: "utf-8", "utf-16le", "iso-8859-1"….
func (d *Document) Encoding() string { return d.charset.name }

// Bytes is the file as it was. It must not be changed.
func (d *Document) Bytes() []byte { return d.data }

// Place returns line and column of an offset in the text.
func (d *Document) Place(offset int) Place { return NewTracker(d.Text).At(offset) }

// Fault builds an error that names the file and the place of an offset.
func (d *Document) Fault(offset int, problem, hint string) *Error {
	p := d.Place(offset)
	return &Error{File: d.Name, Entry: d.Entry, Line: p.Line, Column: p.Column, Problem: problem, Hint: hint}
}

func (d *Document) errorf(format string, args ...any) *Error {
	return &Error{File: d.Name, Entry: d.Entry, Problem: fmt.Sprintf(format, args...)}
}
