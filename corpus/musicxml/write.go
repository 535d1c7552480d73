package musicxml

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"

	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

// WriteTree writes a tree as a score-partwise document: for engravers, never in
// the place of what it was read from.
func WriteTree(tree Tree) string {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n" + `<score-partwise version="4.0">` + "\n")
	for _, e := range tree.Head {
		writeElement(&b, e)
	}
	for _, p := range tree.Parts {
		b.WriteString(`<part id="` + xmltree.Escape(p.ID) + `">` + "\n")
		for _, m := range p.Measures {
			writeElement(&b, m)
			b.WriteByte('\n')
		}
		b.WriteString("</part>\n")
	}
	b.WriteString("</score-partwise>\n")
	return b.String()
}

func writeElement(b *strings.Builder, e *xmltree.Element) {
	b.WriteString("<" + e.Name)
	for _, a := range e.Attributes {
		name := a.Name.Local
		if a.Name.Space != "" {
			name = a.Name.Space + ":" + name
		}
		b.WriteString(" " + name + `="` + xmltree.Escape(a.Value) + `"`)
	}
	if e.First == nil && e.Text == "" {
		b.WriteString("/>")
		return
	}
	b.WriteString(">")
	if strings.TrimSpace(e.Text) != "" {
		b.WriteString(xmltree.Escape(e.Text))
	}
	for c := e.First; c != nil; c = c.Next {
		writeElement(b, c)
	}
	b.WriteString("</" + e.Name + ">")
}

// Partwise writes a timewise document as a partwise one, for engravers.
func Partwise(doc *source.Document, limits Limits) (string, error) {
	r := newReader(doc, limits)
	if _, err := r.root(); err != nil {
		return "", err
	}
	tree := Tree{}
	var measures []*xmltree.Element
	for {
		t, err := r.scan.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return "", err
		}
		start, is := t.(xml.StartElement)
		if !is {
			continue
		}
		e, err := r.scan.Tree(start)
		if err != nil {
			return "", err
		}
		if e.Name == "measure" {
			measures = append(measures, e)
			continue
		}
		tree.Head = append(tree.Head, e)
		if e.Name == "part-list" {
			if err := r.partList(e); err != nil {
				return "", err
			}
		}
	}
	var err error
	tree.Parts, err = r.turned(measures)
	return WriteTree(tree), err
}
