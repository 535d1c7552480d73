package xmltree

import (
	"encoding/xml"
	"fmt"
	"regexp"
	"strings"
)

// Text is a document's text into which elements are to be put so that it looks
// as before.
type Text struct {
	Text    string
	Newline string // as the document has it
}

// TextOf is the text of a document.
func TextOf(text string) Text { return Text{text, newlineOf(text)} }

func newlineOf(text string) string {
	i := strings.IndexAny(text, "\r\n")
	switch {
	case i < 0 || text[i] == '\n':
		return "\n"
	case i+1 < len(text) && text[i+1] == '\n':
		return "\r\n"
	}
	return "\r"
}

// Of is what stands in a span.
func (t Text) Of(at Span) string { return t.Text[at.Start:at.End] }

// Indent is the white space in front of an offset: the newline with what
// follows it, or "" where something else stands on the line.
func (t Text) Indent(at int32) string {
	i := at
	for i > 0 && (t.Text[i-1] == ' ' || t.Text[i-1] == '\t') {
		i--
	}
	if i == 0 || t.Text[i-1] != '\n' && t.Text[i-1] != '\r' {
		return ""
	}
	return t.Newline + t.Text[i:at]
}

// ChildIndent is the indentation of what stands inside an element: that of
// its first child, or a step deeper than its own.
func (t Text) ChildIndent(e Span) string {
	if e.SelfClosing() {
		return t.Indent(e.Start)
	}
	inside := t.Text[e.OpenEnd:e.CloseStart]
	i := strings.IndexByte(inside, '<')
	if i < 0 {
		return t.Indent(e.Start)
	}
	return t.Indent(e.OpenEnd + int32(i))
}

// ContentEnd is where the last child of an element ends.
func (t Text) ContentEnd(e Span) int32 {
	at := e.CloseStart
	for at > e.OpenEnd && strings.IndexByte(" \t\r\n", t.Text[at-1]) >= 0 {
		at--
	}
	return at
}

// Deeper adds one more step to an indentation, of the size of the step
// between two others.
func Deeper(outer, inner string) string {
	if !strings.HasPrefix(inner, outer) {
		return inner
	}
	return inner + inner[len(outer):]
}

// Attribute is a name and a value; an empty value takes the attribute away.
type Attribute struct{ Name, Value string }

// WriteAttributes writes those that have a value.
func WriteAttributes(b *strings.Builder, attributes []Attribute) {
	for _, a := range attributes {
		if a.Value != "" {
			for _, part := range [...]string{" ", a.Name, `="`, Escape(a.Value), `"`} {
				b.WriteString(part)
			}
		}
	}
}

var tagAttribute = regexp.MustCompile(`\s+([\w:.-]+)\s*=\s*("[^"]*"|'[^']*')`)

// WithAttribute sets, replaces or takes away one attribute of a tag.
func WithAttribute(tag string, a Attribute) string {
	if a.Value == "" && !strings.Contains(tag, a.Name) {
		return tag
	}
	for _, m := range tagAttribute.FindAllStringSubmatchIndex(tag, -1) {
		if tag[m[2]:m[3]] != a.Name {
			continue
		}
		if a.Value == "" {
			return tag[:m[0]] + tag[m[1]:]
		}
		if now := tag[m[4]+1 : m[5]-1]; now == Escape(a.Value) {
			return tag
		}
		return tag[:m[4]] + `"` + Escape(a.Value) + `"` + tag[m[5]:]
	}
	if a.Value == "" {
		return tag
	}
	end := strings.TrimRight(strings.TrimSuffix(strings.TrimSuffix(tag, ">"), "/"), " \t\r\n")
	return end + fmt.Sprintf(` %s="%s"`, a.Name, Escape(a.Value)) + tag[len(end):]
}

// Escape writes text so that it can stand in XML.
func Escape(s string) string {
	if plain(s) {
		return s
	}
	var b strings.Builder
	// A strings.Builder never fails to write.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}

// plain says that text stands in XML as it is; what is not ASCII is looked at by the library.
func plain(s string) bool {
	for i := range len(s) {
		switch c := s[i]; {
		case c < ' ' || c > '~', c == '"', c == '\'', c == '&', c == '<', c == '>':
			return false
		}
	}
	return true
}

// AttributeOf is the value of an attribute as it stands in a tag, "" where it is not there.
func AttributeOf(tag, name string) string {
	for _, m := range tagAttribute.FindAllStringSubmatch(tag, -1) {
		if m[1] == name {
			return m[2][1 : len(m[2])-1]
		}
	}
	return ""
}
