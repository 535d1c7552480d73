package musicxml

import (
	"encoding/xml"
	"strings"
)

// element is one element of the document with its places in the text. Its
// text is what stands directly in it.
type element struct {
	name       string
	attributes []xml.Attr
	text       string
	span       span
	first      *element // first child
	last       *element // last child
	next       *element // next sibling
}

// span holds the places of an element's tags in the text. A self-closing
// element has openEnd == closeStart == end.
type span struct{ start, openEnd, closeStart, end int32 }

func (s span) selfClosing() bool { return s.openEnd == s.end }
func (s span) exists() bool      { return s.end > 0 }

// child returns the first child of that name, or nil; a nil element has none.
func (e *element) child(name string) *element {
	if e == nil {
		return nil
	}
	for c := e.first; c != nil; c = c.next {
		if c.name == name {
			return c
		}
	}
	return nil
}

// trimmed is the element's text without white space around it; "" for nil.
func (e *element) trimmed() string {
	if e == nil {
		return ""
	}
	return strings.TrimSpace(e.text)
}

// childText is the trimmed text of the first child of that name.
func (e *element) childText(name string) string { return e.child(name).trimmed() }

// attribute returns an attribute's value, "" where it is absent.
func (e *element) attribute(name string) string {
	if e != nil {
		for i := range e.attributes {
			if a := &e.attributes[i]; a.Name.Local == name && a.Name.Space == "" {
				return strings.TrimSpace(a.Value)
			}
		}
	}
	return ""
}

// childPath is the trimmed text at the end of a path of first children.
func (e *element) childPath(names ...string) string {
	for _, name := range names {
		e = e.child(name)
	}
	return e.trimmed()
}

// numberOne is an attribute that the standard takes for said.
var numberOne = xml.Attr{Name: xml.Name{Local: "number"}, Value: "1"}

// arena hands out elements and takes them all back at once.
type arena struct {
	chunks [][]element
	used   int
}

const arenaChunk = 512

func (a *arena) reset() { a.used = 0 }

func (a *arena) take() *element {
	chunk, at := a.used/arenaChunk, a.used%arenaChunk
	if chunk == len(a.chunks) {
		a.chunks = append(a.chunks, make([]element, arenaChunk))
	}
	a.used++
	e := &a.chunks[chunk][at]
	*e = element{}
	return e
}
