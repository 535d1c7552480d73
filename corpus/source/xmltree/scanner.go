package xmltree

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"fingerproof/corpus/source"
)

// Scanner walks the document's tokens and knows where each stands.
type Scanner struct {
	doc        *source.Document
	limits     Limits
	Start, End int      // of the token last read
	open       []string // names of the elements that are open
	arena      arena
	attributes attributes
	token      token
	closes     bool   // the start tag last read closes itself: its end comes next
	failed     error  // what the document cannot be read beyond
	bytes      []byte // of the text last given
}

// NewScanner begins at the beginning of a document.
func NewScanner(doc *source.Document, limits Limits) *Scanner {
	return &Scanner{doc: doc, limits: limits}
}

// Fault names the document and the place of an offset.
func (s *Scanner) Fault(offset int, problem, hint string) error {
	return s.doc.Fault(offset, problem, hint)
}

// Token reads the next token; io.EOF after the end of the root element. Bytes of text are good until the next one.
func (s *Scanner) Token() (xml.Token, error) {
	if err := s.next(); err != nil {
		return nil, err
	}
	t := &s.token
	switch {
	case t.full != nil:
		return t.full, nil
	case t.kind == startTag:
		return xml.StartElement{Name: xml.Name{Local: t.name}, Attr: t.attrs}, nil
	case t.kind == endTag:
		return xml.EndElement{Name: xml.Name{Local: t.name}}, nil
	}
	s.bytes = append(s.bytes[:0], s.doc.Text[s.Start:s.End]...)
	return xml.CharData(s.bytes), nil
}

// next reads the next token.
func (s *Scanner) next() error {
	s.Start = s.End
	if s.failed != nil {
		return s.failed
	}
	if s.closes {
		s.closes = false
		s.token.kind, s.token.attrs = endTag, nil
		if start, ok := s.token.full.(xml.StartElement); ok {
			s.token.full = start.End()
		}
	} else if !s.plain() {
		if err := s.byDecoder(); err != nil {
			s.failed = s.explain(err)
			return s.failed
		}
	}
	switch t := &s.token; t.kind {
	case startTag:
		if len(s.open) >= s.limits.Depth {
			return s.Fault(s.Start, fmt.Sprintf("elements stand more than %d deep in each other", s.limits.Depth), "")
		}
		if len(t.attrs) > s.limits.Attributes {
			return s.Fault(s.Start, fmt.Sprintf("<%s> has more than %d attributes", t.name, s.limits.Attributes), "")
		}
		s.open = append(s.open, t.name)
	case endTag:
		if len(s.open) == 0 {
			return s.Fault(s.Start, fmt.Sprintf("</%s> closes nothing", t.name), "")
		}
		if name := s.open[len(s.open)-1]; name != t.name {
			return s.Fault(s.Start, fmt.Sprintf("</%s> stands where </%s> should", t.name, name), "")
		}
		s.open = s.open[:len(s.open)-1]
	}
	return nil
}

// FullName is a name as it stands in the file, prefix included: what a
// prefix means is the format's matter.
func FullName(n xml.Name) string {
	if n.Space == "" {
		return n.Local
	}
	return n.Space + ":" + n.Local
}

// explain turns the decoder's errors into ones that name the place.
func (s *Scanner) explain(err error) error {
	if errors.Is(err, io.EOF) {
		if len(s.open) == 0 {
			return io.EOF
		}
		return s.truncated()
	}
	var syntax *xml.SyntaxError
	if !errors.As(err, &syntax) {
		return s.Fault(s.End, "this XML cannot be read: "+strings.TrimPrefix(err.Error(), "xml: "), "")
	}
	switch {
	case strings.HasPrefix(syntax.Msg, "unexpected EOF"):
		return s.truncated()
	case strings.HasPrefix(syntax.Msg, "invalid character entity"):
		return s.Fault(s.End, "an entity that XML itself does not know stands here ("+strings.TrimPrefix(syntax.Msg, "invalid character entity ")+"); entities a file declares are never expanded",
			"write the character itself, or a number as in &#233;")
	}
	return s.Fault(s.End, "this is not well-formed XML: "+syntax.Msg, "")
}

func (s *Scanner) truncated() error {
	inside := ""
	if n := len(s.open); n > 0 {
		inside = fmt.Sprintf(" inside <%s>", s.open[n-1])
	}
	return s.Fault(len(s.doc.Text), "the file ends"+inside+": it has been cut off", "export or fetch the score again")
}

// Tree reads an element whose start tag was just read, with all that is in it.
// The tree is good until the arena is reset.
func (s *Scanner) Tree(start xml.StartElement) (*Element, error) {
	first := s.arena.used
	root := s.newElement(FullName(start.Name), start.Attr)
	var path [64]*Element
	stack := append(path[:0], root)
	for len(stack) > 0 {
		if err := s.next(); err != nil {
			return nil, err
		}
		top := stack[len(stack)-1]
		switch t := &s.token; t.kind {
		case startTag:
			if s.arena.used-first > s.limits.Elements {
				return nil, s.Fault(int(root.Span.Start), fmt.Sprintf("this <%s> holds more than %d elements", root.Name, s.limits.Elements), "")
			}
			e := s.newElement(t.name, t.attrs)
			if top.Last == nil {
				top.First = e
			} else {
				top.Last.Next = e
			}
			top.Last = e
			stack = append(stack, e)
		case endTag:
			top.Span.CloseStart, top.Span.End = int32(s.Start), int32(s.End)
			stack = stack[:len(stack)-1]
		case text:
			s.addText(top)
		}
	}
	return root, nil
}

func (s *Scanner) newElement(name string, attrs []xml.Attr) *Element {
	e := s.arena.take()
	e.Name, e.Attributes = name, attrs
	e.Span.Start, e.Span.OpenEnd = int32(s.Start), int32(s.End)
	return e
}

// joinedText is far more than any text that comments or other elements cut
// into pieces.
const joinedText = 1 << 10

// addText adds the text last read to an element. Most stands in the document as
// it is, and is shared with it rather than copied. Text in pieces is joined up
// to a limit: joining costs more with each piece.
func (s *Scanner) addText(e *Element) {
	raw := s.doc.Text[s.Start:s.End]
	data, read := s.token.full.(xml.CharData) // not where it is what stands there
	switch {
	case e.Text == "" && (!read || len(data) == len(raw)):
		e.Text = raw
	default:
		if read {
			raw = string(data)
		}
		if e.First != nil && strings.TrimSpace(raw) == "" {
			return
		}
		if len(e.Text) < joinedText {
			e.Text += raw
		}
	}
}

// longTag is far longer than any tag of a real score.
const longTag = 1 << 16

// GuardTags refuses a document with an absurdly long tag before a decoder
// makes millions of attributes of it.
func GuardTags(doc *source.Document) error {
	text := doc.Text
	for at := 0; ; {
		i := strings.IndexByte(text[at:], '<')
		if i < 0 {
			return nil
		}
		at += i
		closing := ">"
		switch {
		case strings.HasPrefix(text[at:], "<!--"):
			closing = "-->"
		case strings.HasPrefix(text[at:], "<![CDATA["):
			closing = "]]>"
		case strings.HasPrefix(text[at:], "<?"):
			closing = "?>"
		default:
			// A quoted > ends the search early, which is harmless here: what
			// follows it is looked at as text, up to the next tag.
			if n := strings.IndexByte(text[at:], '>'); n > longTag {
				return doc.Fault(at, fmt.Sprintf("a tag of %d bytes stands here", n), "")
			} else if n < 0 && len(text)-at > longTag {
				return doc.Fault(at, "a tag begins here that never ends", "")
			}
		}
		n := strings.Index(text[at:], closing)
		if n < 0 {
			return nil // the decoder will say what is missing
		}
		at += n + len(closing)
	}
}

// Reset takes back all trees that were given, so that their room is used again.
func (s *Scanner) Reset() { s.arena.reset() }

// Held is how many elements the trees since the last Reset have.
func (s *Scanner) Held() int { return s.arena.used }
