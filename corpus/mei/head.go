package mei

import (
	"cmp"
	"strings"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/source/xmltree"
)

// head reads who and what the document names, and what an edition of ours says of itself.
func (r *reader) head() {
	head := r.find("meiHead")
	r.layout.head.root = r.root.Span
	if head == nil {
		return
	}
	lay := &r.layout.head
	lay.head = head.Span
	for c := head.First; c != nil; c = c.Next {
		switch c.Name {
		case "extMeta":
			if strings.HasPrefix(c.Attribute("type"), musicxml.FieldPrefix) {
				lay.fields[c.Attribute("type")] = c.Span
				r.layout.said = append(r.layout.said, saying(c, "miscellaneous-field", strings.TrimSpace(c.Text), "name", c.Attribute("type")))
			}
			lay.fieldsEnd = c.Span.End
		case "altId", "fileDesc", "encodingDesc", "workList", "workDesc", "manifestationList":
			lay.fieldsEnd = c.Span.End
		}
	}
	for c := range r.content(cmp.Or(r.find("meiHead", "encodingDesc", "appInfo"), head)) {
		r.verovio = r.verovio || c.Name == "application" && strings.Contains(r.textOf(c.Child("name")), "Verovio")
	}
	if title := r.find("meiHead", "fileDesc", "titleStmt"); title != nil {
		lay.title = title.Span
		for c := title.First; c != nil; c = c.Next {
			if c.Name == "respStmt" && strings.HasPrefix(idOf(cmp.Or(c.Child("name"), c)), idPrefix) {
				lay.agents = append(lay.agents, declaredAgent{idOf(c.Child("name")), c.Span})
				continue
			}
			lay.titleEnd = c.Span.End
		}
	}
	if e := r.find("music"); e != nil {
		lay.music = e.Span
		for c := e.First; c != nil; c = c.Next {
			switch c.Name {
			case "front":
				lay.front = c.Span
			case "facsimile", "genDesc":
				lay.beforeFront = c.Span.End
			}
		}
		if front := e.Child("front"); front != nil {
			for c := front.First; c != nil; c = c.Next {
				if c.Name == "div" && c.Attribute("type") == legendType {
					lay.legend = c.Span
				}
			}
		}
	}
}

// headTree is the head in MusicXML's words.
func (r *reader) headTree() []*xmltree.Element {
	var out []*xmltree.Element
	titles := r.find("meiHead", "fileDesc", "titleStmt")
	var people []*xmltree.Element
	if titles != nil {
		main := false
		for c := range r.content(titles) {
			switch c.Name {
			case "title":
				text := r.textOf(c)
				switch kind := c.Attribute("type"); {
				case text == "":
				case !main && (kind == "" || kind == "main" || kind == "uniform"):
					main = true
					out = append(out, with(made(c, "work"), saying(c, "work-title", text)))
				default:
					out = append(out, saying(c, "movement-title", text))
				}
			case "composer", "arranger", "lyricist", "librettist", "editor", "creator":
				role := c.Name
				if role == "creator" {
					role = c.Attribute("role")
				}
				people = append(people, saying(c, "creator", r.textOf(c), "type", role))
			case "respStmt":
				for p := range r.content(c) {
					if (p.Name == "persName" || p.Name == "name" || p.Name == "corpName") && p.Attribute("role") != "" {
						people = append(people, saying(p, "creator", r.textOf(p), "type", p.Attribute("role")))
					}
				}
			}
		}
	}
	identification := made(r.root, "identification")
	with(identification, people...)
	if use := r.find("meiHead", "fileDesc", "pubStmt", "availability"); use != nil {
		for c := use.First; c != nil; c = c.Next {
			if text := r.textOf(c); text != "" {
				with(identification, saying(c, "rights", text))
			}
		}
	}
	if len(r.layout.said) > 0 {
		with(identification, with(made(r.root, "miscellaneous"), r.layout.said...))
	}
	out = append(out, identification)
	if front := r.find("music", "front"); front != nil {
		for c := front.First; c != nil; c = c.Next {
			if c.Name == "div" && c.Attribute("type") == legendType {
				out = append(out, with(made(c, "credit", "page", "1"), saying(c, "credit-type", musicxml.LegendType), saying(c, "credit-words", r.textOf(c))))
			}
		}
	}
	return append(out, r.onFirstPage()...)
}

// onFirstPage is what the first page prints above and below its music, a text each: the children of <pgHead> and <pgFoot>.
func (r *reader) onFirstPage() []*xmltree.Element {
	var out []*xmltree.Element
	def := r.find("music", "body", "mdiv", "score", "scoreDef")
	if def == nil {
		return nil
	}
	for _, name := range [...]string{"pgHead", "pgFoot"} {
		block := def.Child(name)
		if block == nil {
			continue
		}
		said := 0
		credit := func(e *xmltree.Element) {
			if text := r.textOf(e); text != "" {
				out = append(out, with(made(e, "credit", "page", "1"), saying(e, "credit-words", text)))
				said++
			}
		}
		for c := range r.content(block) {
			credit(c)
		}
		if said == 0 {
			credit(block)
		}
	}
	return out
}
