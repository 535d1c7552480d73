package xmltree

import (
	"encoding/xml"
	"strings"
)

// Element is one element of the document with its places in the text. Its
// text is what stands directly in it.
type Element struct {
	Name       string
	Attributes []xml.Attr
	Text       string
	Span       Span
	First      *Element // first child
	Last       *Element // last child
	Next       *Element // next sibling
}

// Span holds the places of an element's tags in the text. A self-closing
// element has OpenEnd == CloseStart == End.
type Span struct{ Start, OpenEnd, CloseStart, End int32 }

func (s Span) SelfClosing() bool { return s.OpenEnd == s.End }
func (s Span) Exists() bool      { return s.End > 0 }

// child returns the first child of that name, or nil; a nil element has none.
func (e *Element) Child(name string) *Element {
	if e == nil {
		return nil
	}
	for c := e.First; c != nil; c = c.Next {
		if c.Name == name {
			return c
		}
	}
	return nil
}

// trimmed is the element's text without white space around it; "" for nil.
func (e *Element) Trimmed() string {
	if e == nil {
		return ""
	}
	return strings.TrimSpace(e.Text)
}

// childText is the trimmed text of the first child of that name.
func (e *Element) ChildText(name string) string { return e.Child(name).Trimmed() }

// attribute returns an attribute's value, "" where it is absent.
func (e *Element) Attribute(name string) string {
	if e != nil {
		for i := range e.Attributes {
			if a := &e.Attributes[i]; a.Name.Local == name && a.Name.Space == "" {
				return strings.TrimSpace(a.Value)
			}
		}
	}
	return ""
}

// childPath is the trimmed text at the end of a path of first children.
func (e *Element) ChildPath(names ...string) string {
	for _, name := range names {
		e = e.Child(name)
	}
	return e.Trimmed()
}

// arena hands out elements and takes them all back at once.
type arena struct {
	chunks [][]Element
	used   int
}

const arenaChunk = 512

func (a *arena) reset() { a.used = 0 }

func (a *arena) take() *Element {
	chunk, at := a.used/arenaChunk, a.used%arenaChunk
	if chunk == len(a.chunks) {
		a.chunks = append(a.chunks, make([]Element, arenaChunk))
	}
	a.used++
	e := &a.chunks[chunk][at]
	*e = Element{}
	return e
}
