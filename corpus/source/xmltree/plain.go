package xmltree

import (
	"encoding/xml"
	"io"
	"strings"
	"unicode/utf8"
)

// token is what was read last.
type token struct {
	kind  tokenKind
	name  string     // of an element, prefix included
	attrs []xml.Attr // of a start tag
	full  xml.Token  // of the decoder, and text in which ends of lines are written otherwise; else nil
}

type tokenKind int

const (
	startTag tokenKind = iota
	endTag
	text  // between tags
	other // comments, instructions
)

// The bytes of tags and text as most are written. Whatever has another byte, an entity say, or a prefix, is left to the
// decoder.
var (
	nameBegins = bytesOf("_" + letters)
	nameGoesOn = bytesOf("_-." + letters + digits)
	plainText  = allBut("&<]")
	plainValue = allBut("&<]\"'\r")
	whiteSpace = bytesOf(" \t\n\r")
)

const (
	letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
	digits  = "0123456789"
)

func bytesOf(list string) (set [256]bool) {
	for i := range len(list) {
		set[list[i]] = true
	}
	return set
}

// allBut is what may stand in a text as it is, but for some bytes: ASCII that can be printed, white space, and the bytes of
// all other letters.
func allBut(some string) (set [256]bool) {
	for b := range set {
		set[b] = b >= ' ' && b != 0x7f || whiteSpace[b]
	}
	for i := range len(some) {
		set[some[i]] = false
	}
	return set
}

// allowed says that the letters of a text are ones that XML allows (XML 1.0, section 2.2).
func allowed(chunk string) bool {
	return utf8.ValidString(chunk) && (strings.IndexByte(chunk, 0xef) < 0 || !strings.ContainsAny(chunk, "\ufffe\uffff"))
}

// run gives where a run of bytes of a set ends that begins at an offset.
func run(doc string, at int, set *[256]bool) int {
	for at < len(doc) && set[doc[at]] {
		at++
	}
	return at
}

// plain reads a tag or a text that is written as most are, and says whether it was one; else nothing has happened.
// What it reads is what encoding/xml reads there.
func (s *Scanner) plain() bool {
	doc, at := s.doc.Text, s.End
	if at >= len(doc) {
		return false
	}
	if doc[at] != '<' {
		end := run(doc, at, &plainText)
		if end == len(doc) || doc[end] != '<' || !allowed(doc[at:end]) {
			return false
		}
		s.token, s.End = token{kind: text}, end
		if strings.IndexByte(doc[at:end], '\r') >= 0 { // XML 1.0, section 2.11
			s.token.full = xml.CharData(endsOfLines.Replace(doc[at:end]))
		}
		return true
	}
	at++
	if at < len(doc) && doc[at] == '/' {
		return s.plainEnd(at + 1)
	}
	return s.plainStart(at)
}

// plainName gives where a name ends that begins at an offset; ok is false where it is none, or one with a prefix.
func plainName(doc string, at int) (end int, ok bool) {
	if at >= len(doc) || !nameBegins[doc[at]] {
		return at, false
	}
	end = run(doc, at, &nameGoesOn)
	return end, end < len(doc) && doc[end] != ':' && doc[end] < 0x80
}

func (s *Scanner) plainEnd(at int) bool {
	doc := s.doc.Text
	end, ok := plainName(doc, at)
	if !ok || doc[end] != '>' {
		return false
	}
	s.token, s.End = token{kind: endTag, name: doc[at:end]}, end+1
	return true
}

func (s *Scanner) plainStart(at int) bool {
	doc := s.doc.Text
	end, ok := plainName(doc, at)
	if !ok {
		return false
	}
	name, attrs := doc[at:end], noAttributes
	for {
		at = run(doc, end, &whiteSpace)
		if at >= len(doc) {
			return false
		}
		if doc[at] == '>' {
			break
		}
		if strings.HasPrefix(doc[at:], "/>") {
			at++
			s.closes = true
			break
		}
		if at == end { // nothing parts it from what stands before
			return false
		}
		a := xml.Attr{}
		if end, ok = plainName(doc, at); !ok || doc[end] != '=' || end+1 >= len(doc) {
			return false
		}
		a.Name.Local = doc[at:end]
		quote := doc[end+1]
		if quote != '"' && quote != '\'' {
			return false
		}
		at = end + 2
		if end = run(doc, at, &plainValue); end >= len(doc) || doc[end] != quote || !allowed(doc[at:end]) {
			return false
		}
		a.Value = doc[at:end]
		end++
		attrs = s.attributes.add(attrs, a)
	}
	s.token, s.End = token{kind: startTag, name: name, attrs: attrs}, at+1
	return true
}

var endsOfLines = strings.NewReplacer("\r\n", "\n", "\r", "\n")

var noAttributes = []xml.Attr{}

// attributes gives room to lists of attributes, many at once.
type attributes struct{ room []xml.Attr }

const attributesChunk = 256

// add puts an attribute behind a list, which is the one last added to, or empty.
func (a *attributes) add(list []xml.Attr, one xml.Attr) []xml.Attr {
	if len(a.room) == cap(a.room) {
		a.room = append(make([]xml.Attr, 0, max(attributesChunk, 2*len(list)+1)), list...)
	}
	a.room = append(a.room, one)
	from := len(a.room) - len(list) - 1
	return a.room[from:len(a.room):len(a.room)]
}

// byDecoder has encoding/xml read the next token. Such a token depends on nothing before it.
func (s *Scanner) byDecoder() error {
	from, doc := s.End, s.doc.Text
	d := xml.NewDecoder(strings.NewReader(doc[from:]))
	// The text is decoded already, whatever its declaration says.
	d.CharsetReader = func(_ string, r io.Reader) (io.Reader, error) { return r, nil }
	t, err := d.RawToken()
	s.End = from + int(d.InputOffset())
	if err != nil {
		return err
	}
	switch full := t.(type) {
	case xml.StartElement:
		s.token = token{startTag, FullName(full.Name), full.Attr, t}
		s.closes = strings.HasSuffix(doc[from:s.End], "/>")
	case xml.EndElement:
		s.token = token{endTag, FullName(full.Name), nil, t}
	case xml.CharData:
		s.token = token{text, "", nil, t}
	default:
		s.token = token{other, "", nil, t}
	}
	return nil
}
