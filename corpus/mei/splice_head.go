package mei

import (
	"slices"
	"strings"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

// agent is someone who is responsible for digits.
type agent struct {
	who  score.Responsibility
	name string
	id   string
}

// declaredAgent is one that the document declares already.
type declaredAgent struct {
	id   string
	span xmltree.Span
}

// resp is what points at who is responsible for a digit, "" where nobody is known. Each is declared once, in the head.
func (s *splicer) resp(d score.MarkDigit) string {
	if d.Who == score.Unattributed || s.layout.head.titleEnd == 0 {
		return ""
	}
	for _, a := range s.who {
		if a.who == d.Who && a.name == d.Agent {
			return "#" + a.id
		}
	}
	a := agent{d.Who, d.Agent, s.ours + d.Who.String()}
	if d.Agent != "" {
		a.id += "-" + ncName(d.Agent)
	}
	for taken := true; taken; { // of names that spell alike
		taken = false
		for _, other := range s.who {
			if other.id == a.id {
				a.id, taken = a.id+"-", true
			}
		}
	}
	s.who = append(s.who, a)
	return "#" + a.id
}

// ncName writes a name so that it can be part of an id.
func ncName(s string) string {
	return strings.Map(func(c rune) rune {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' {
			return c
		}
		return '_'
	}, s)
}

// agentNames say who is responsible, in the words of the document's encoding.
var agentNames = map[score.Responsibility]string{
	score.Composer: "the composer", score.Earlier: "an earlier hand", score.Editor: "the editor",
	score.Open: "suggested, not decided",
}

// head declares who is responsible, and says what the edition says of itself. A mend, which says nothing of the edition, leaves
// those declared that were: digits that it does not touch point at them.
func (s *splicer) head(marking score.Marking) {
	h := &s.layout.head
	mend := len(marking.Fields) == 0
	declared := map[string]bool{}
	for _, a := range h.agents { // of an edition that was marked before
		if mend {
			declared[a.id] = true
			continue
		}
		s.cut(a.span)
	}
	undeclared := slices.DeleteFunc(slices.Clone(s.who), func(a agent) bool { return declared[a.id] })
	if len(undeclared) > 0 {
		indent := s.ChildIndent(h.title)
		rows := ""
		for _, a := range undeclared {
			name := agentNames[a.who]
			if a.name != "" {
				name += " (" + a.name + ")"
			}
			rows += indent + s.element("respStmt", s.element("resp", "fingering")+s.element("name", xmltree.Escape(name), "xml:id", a.id))
		}
		s.insert(h.titleEnd, rows)
	}
	s.fields(marking.Fields)
	if !mend {
		s.legend(marking.Legend)
	}
}

// cut takes an element away with the white space in front of it.
func (s *splicer) cut(at xmltree.Span) {
	for at.Start > 0 && strings.IndexByte(" \t\r\n", s.Text.Text[at.Start-1]) >= 0 {
		at.Start--
	}
	s.replace(at, "")
}

// fields puts what an edition says of itself into the head, as metadata of its own kind.
func (s *splicer) fields(fields []score.Field) {
	h := &s.layout.head
	rows := ""
	indent := ""
	if h.head.Exists() {
		indent = s.ChildIndent(h.head)
	}
	for _, f := range fields {
		name := musicxml.FieldPrefix + f.Name
		before, after := Field(s.layout.prefix, f.Name)
		tag := before + xmltree.Escape(f.Value) + after
		if at, there := h.fields[name]; there {
			if s.Of(at) != tag {
				s.replace(at, tag)
			}
			continue
		}
		rows += indent + tag
	}
	switch {
	case rows == "":
	case h.fieldsEnd > 0:
		s.insert(h.fieldsEnd, rows)
	case h.head.Exists() && !h.head.SelfClosing():
		s.insert(s.ContentEnd(h.head), rows)
	default: // no head that could hold them: one that says as little as one must
		title := s.element("titleStmt", "<"+s.name("title")+"/>")
		file := s.element("fileDesc", title+"<"+s.name("pubStmt")+"/>")
		whole := s.element("meiHead", file+rows)
		if h.head.Exists() {
			s.replace(h.head, whole)
		} else {
			s.edits = append(s.edits, source.Edit{Offset: int(h.root.OpenEnd), New: whole})
		}
	}
}

// Field is what stands before and after the content of a field of ours in a
// document whose elements have a prefix.
func Field(prefix, name string) (before, after string) {
	if prefix != "" {
		prefix += ":"
	}
	return "<" + prefix + `extMeta type="` + musicxml.FieldPrefix + name + `">`, "</" + prefix + "extMeta>"
}

// legend puts the legend in front of the music; one that stands there is replaced, and removed where there are no words.
func (s *splicer) legend(words string) {
	h := &s.layout.head
	if words == "" {
		if h.legend.Exists() {
			s.cut(h.legend)
		}
		return
	}
	div := s.element("div", s.element("p", xmltree.Escape(words)), "type", legendType)
	switch {
	case h.legend.Exists():
		if s.Of(h.legend) != div {
			s.replace(h.legend, div)
		}
	case h.front.Exists() && !h.front.SelfClosing():
		s.insert(s.ContentEnd(h.front), s.ChildIndent(h.front)+div)
	case h.front.Exists():
		s.replace(h.front, s.element("front", div))
	default:
		indent := s.ChildIndent(h.music)
		s.insert(max(h.beforeFront, h.music.OpenEnd), indent+s.element("front", div))
	}
}
