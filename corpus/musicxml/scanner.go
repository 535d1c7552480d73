package musicxml

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"fingerproof/corpus/source"
)

// scanner walks the document's tokens and knows where each stands.
type scanner struct {
	doc        *source.Document
	limits     Limits
	decoder    *xml.Decoder
	start, end int      // of the token last read
	open       []string // names of the elements that are open
	arena      arena
}

func newScanner(doc *source.Document, limits Limits) *scanner {
	d := xml.NewDecoder(strings.NewReader(doc.Text))
	// The text is decoded already, whatever its declaration says.
	d.CharsetReader = func(_ string, r io.Reader) (io.Reader, error) {
		return strings.NewReader(doc.Text[d.InputOffset():]), nil
	}
	return &scanner{doc: doc, limits: limits, decoder: d}
}

func (s *scanner) fault(offset int, problem, hint string) error {
	return s.doc.Fault(offset, problem, hint)
}

// token reads the next token; io.EOF after the end of the root element.
func (s *scanner) token() (xml.Token, error) {
	s.start = s.end
	t, err := s.decoder.RawToken()
	s.end = int(s.decoder.InputOffset())
	if err != nil {
		return nil, s.explain(err)
	}
	switch t := t.(type) {
	case xml.StartElement:
		if len(s.open) >= s.limits.Depth {
			return nil, s.fault(s.start, fmt.Sprintf("elements stand more than %d deep in each other", s.limits.Depth), "")
		}
		if len(t.Attr) > s.limits.Attributes {
			return nil, s.fault(s.start, fmt.Sprintf("<%s> has more than %d attributes", fullName(t.Name), s.limits.Attributes), "")
		}
		s.open = append(s.open, fullName(t.Name))
	case xml.EndElement:
		if len(s.open) == 0 {
			return nil, s.fault(s.start, fmt.Sprintf("</%s> closes nothing", fullName(t.Name)), "")
		}
		if name := s.open[len(s.open)-1]; name != fullName(t.Name) {
			return nil, s.fault(s.start, fmt.Sprintf("</%s> stands where </%s> should", fullName(t.Name), name), "")
		}
		s.open = s.open[:len(s.open)-1]
	}
	return t, nil
}

// fullName is a name as it stands in the file, prefix included: MusicXML has
// no namespace, so that a prefixed name is never one of its own.
func fullName(n xml.Name) string {
	if n.Space == "" {
		return n.Local
	}
	return n.Space + ":" + n.Local
}

// explain turns the decoder's errors into ones that name the place.
func (s *scanner) explain(err error) error {
	if errors.Is(err, io.EOF) {
		if len(s.open) == 0 {
			return io.EOF
		}
		return s.truncated()
	}
	var syntax *xml.SyntaxError
	if !errors.As(err, &syntax) {
		return s.fault(s.end, "this XML cannot be read: "+strings.TrimPrefix(err.Error(), "xml: "), "")
	}
	switch {
	case strings.HasPrefix(syntax.Msg, "unexpected EOF"):
		return s.truncated()
	case strings.HasPrefix(syntax.Msg, "invalid character entity"):
		return s.fault(s.end, "an entity that XML itself does not know stands here ("+strings.TrimPrefix(syntax.Msg, "invalid character entity ")+"); entities a file declares are never expanded",
			"write the character itself, or a number as in &#233;")
	}
	return s.fault(s.end, "this is not well-formed XML: "+syntax.Msg, "")
}

func (s *scanner) truncated() error {
	inside := ""
	if n := len(s.open); n > 0 {
		inside = fmt.Sprintf(" inside <%s>", s.open[n-1])
	}
	return s.fault(len(s.doc.Text), "the file ends"+inside+": it has been cut off", "export or fetch the score again")
}

// tree reads an element whose start tag was just read, with all that is in it.
// The tree is good until the arena is reset.
func (s *scanner) tree(start xml.StartElement) (*element, error) {
	first := s.arena.used
	root := s.newElement(start)
	var path [64]*element
	stack := append(path[:0], root)
	for len(stack) > 0 {
		t, err := s.token()
		if err != nil {
			return nil, err
		}
		top := stack[len(stack)-1]
		switch t := t.(type) {
		case xml.StartElement:
			if s.arena.used-first > s.limits.Elements {
				return nil, s.fault(int(root.span.start), fmt.Sprintf("this <%s> holds more than %d elements", root.name, s.limits.Elements), "")
			}
			e := s.newElement(t)
			if top.last == nil {
				top.first = e
			} else {
				top.last.next = e
			}
			top.last = e
			stack = append(stack, e)
		case xml.EndElement:
			top.span.closeStart, top.span.end = int32(s.start), int32(s.end)
			stack = stack[:len(stack)-1]
		case xml.CharData:
			s.addText(top, t)
		}
	}
	return root, nil
}

func (s *scanner) newElement(start xml.StartElement) *element {
	e := s.arena.take()
	e.name, e.attributes = fullName(start.Name), start.Attr
	e.span.start, e.span.openEnd = int32(s.start), int32(s.end)
	return e
}

// joinedText is far more than any text that comments or other elements cut
// into pieces.
const joinedText = 1 << 10

// addText adds character data to an element. Most stands in the document as
// it is, and is shared with it rather than copied. Text in pieces is joined up
// to a limit: joining costs more with each piece.
func (s *scanner) addText(e *element, data xml.CharData) {
	raw := s.doc.Text[s.start:s.end]
	switch {
	case len(raw) == len(data) && e.text == "":
		e.text = raw
	default:
		if e.first != nil && strings.TrimSpace(string(data)) == "" {
			return
		}
		if len(e.text) < joinedText {
			e.text += string(data)
		}
	}
}

// longTag is far longer than any tag of a real score.
const longTag = 1 << 16

// guardTags refuses a document with an absurdly long tag before a decoder
// makes millions of attributes of it.
func guardTags(doc *source.Document) error {
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
