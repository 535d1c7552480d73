package mei

import (
	"encoding/xml"
	"strconv"
	"strings"

	"fingerproof/corpus/source/xmltree"
)

// made makes an element of the tree that is given on, at the place of one of the document. Of names and values those
// with an empty value are left out.
func made(at *xmltree.Element, name string, attributes ...string) *xmltree.Element {
	e := &xmltree.Element{Name: name, Span: at.Span}
	for i := 0; i+1 < len(attributes); i += 2 {
		if attributes[i+1] != "" {
			e.Attributes = append(e.Attributes, xml.Attr{Name: xml.Name{Local: attributes[i]}, Value: attributes[i+1]})
		}
	}
	return e
}

// with adds children, and gives the element; those that are nil are left out.
func with(e *xmltree.Element, children ...*xmltree.Element) *xmltree.Element {
	for _, c := range children {
		switch {
		case c == nil:
			continue
		case e.Last == nil:
			e.First = c
		default:
			e.Last.Next = c
		}
		e.Last = c
	}
	return e
}

// saying makes an element with a text.
func saying(at *xmltree.Element, name, text string, attributes ...string) *xmltree.Element {
	e := made(at, name, attributes...)
	e.Text = text
	return e
}

// number makes an element with a number.
func number(at *xmltree.Element, name string, n int64) *xmltree.Element {
	return saying(at, name, strconv.FormatInt(n, 10))
}

// enclosed says of a sign how it is enclosed in the document, and gives it: MusicXML has no words for it, but of heads of
// notes and of accidentals.
func enclosed(sign, of *xmltree.Element) *xmltree.Element {
	if v := of.Attribute("enclose"); v != "" && v != "none" {
		sign.Attributes = append(sign.Attributes, xml.Attr{Name: xml.Name{Local: "enclose"}, Value: v})
	}
	return sign
}

// atoi reads a whole number of a sane size, 0 for anything else.
func atoi(s string) int {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	if err != nil || n > 1<<30 || n < -1<<30 {
		return 0
	}
	return n
}

// yes is "yes" or nothing.
func yes(is bool) string {
	if is {
		return "yes"
	}
	return ""
}

// unseen is the print-object of an element that is not visible.
func unseen(e *xmltree.Element) string {
	if e.Attribute("visible") == "false" {
		return "no"
	}
	return ""
}
