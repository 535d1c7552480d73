package mei

import (
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

// Options choose what is read where a document offers several texts.
type Options struct {
	// Source is the siglum of the source whose readings are taken; empty: the
	// edition's own text, the lemma.
	Source string
}

// reader gathers one document's music.
type reader struct {
	doc       *source.Document
	limits    Limits
	sources   []string // names by which the chosen source is pointed at
	root      *xmltree.Element
	elsewhere *xmltree.Element // the first element that stands for another file
	byID      map[string]*xmltree.Element
	parts     []*part
	staves    map[int]*staff // by their number in the document
	// state of what is defined, as the document is walked
	defs     map[int]*definition
	measures []*measure
	ending   *xmltree.Element
	brk      string // a break that waits for its measure
	forward  bool   // a sign to repeat from that waits for its measure
	events   map[string]*event
	controls int
	copies   int
	notes    int
	odd      []oddity
	// expansions say in which order sections are played; ranges has the measures of sections and endings by their ids.
	expansions []expansion
	ranges     map[string][2]int
	// following has the signs for several measures by staff and layer, repeats the notes that repeat others by a sign.
	following map[voiceKey]follow
	repeats   map[*event][]*event
	// derive says that the document has no gestural accidentals, so that pitches are worked out of what is printed.
	derive bool
	// copying says that a section is being read that stands for another; called are what ids mean to a copied sign.
	copying bool
	called  names
	tied    []pair // notes by the ties that are signs
	layout  *Layout
	// around are the elements in which a digit stands, the innermost first, up to its measure.
	around map[xmltree.Span][]*xmltree.Element
	within *xmltree.Element // the <fingGrp> that is being read
	noted  map[string]bool  // what is said once of a document
	// verovio says that the document was written by that program, whose habits are followed (unnumbered).
	verovio bool
}

// oddity waits for its note to have a place.
type oddity struct {
	kind    score.OddityKind
	event   *event // nil: none
	measure int
	at      *xmltree.Element
	detail  string
}

// Read turns a document into music and says where everything stands in it.
// Errors are *source.Error and name file and place.
func Read(doc *source.Document, limits Limits, options Options) (*score.Score, *Layout, error) {
	if err := xmltree.GuardTags(doc); err != nil {
		return nil, nil, err
	}
	r := newReader(doc, limits)
	if err := r.parse(); err != nil {
		return nil, nil, err
	}
	if options.Source != "" {
		r.choose(options.Source)
	}
	if err := r.music(); err != nil {
		return nil, nil, err
	}
	tree, emitted, err := r.tree()
	if err != nil {
		return nil, nil, err
	}
	s, err := musicxml.ReadTree(doc, tree, limits.Music)
	if err != nil {
		return nil, nil, err
	}
	r.orders(s)
	r.furtherOf(s)
	r.place(s, emitted)
	return s, r.layout, nil
}

func newReader(doc *source.Document, limits Limits) *reader {
	return &reader{
		doc: doc, limits: limits, byID: map[string]*xmltree.Element{}, staves: map[int]*staff{},
		defs: map[int]*definition{}, events: map[string]*event{}, around: map[xmltree.Span][]*xmltree.Element{}, noted: map[string]bool{}, ranges: map[string][2]int{}, following: map[voiceKey]follow{},
		repeats: map[*event][]*event{},
		derive:  !strings.Contains(doc.Text, "accid.ges"), layout: &Layout{
			head: headLayout{fields: map[string]xmltree.Span{}}, grouped: map[xmltree.Span][]xmltree.Span{},
		},
	}
}

// Partwise writes a document's music as MusicXML (score-partwise), note for
// note in the order of Read: for engravers, never in the place of the document.
func Partwise(doc *source.Document, limits Limits) (string, error) {
	r := newReader(doc, limits)
	if err := r.parse(); err != nil {
		return "", err
	}
	if err := r.music(); err != nil {
		return "", err
	}
	tree, _, err := r.tree()
	return musicxml.WriteTree(tree), err
}

// parse reads the whole document into a tree.
func (r *reader) parse() error {
	scan := xmltree.NewScanner(r.doc, r.limits.Tree)
	for r.root == nil {
		t, err := scan.Token()
		if errors.Is(err, io.EOF) {
			return scan.Fault(0, "there is no score in this file: it holds no XML element", "export the score again")
		}
		if err != nil {
			return err
		}
		if data, is := t.(xml.CharData); is && strings.TrimSpace(string(data)) != "" {
			return scan.Fault(scan.Start, "text stands before the root element", "export or fetch the score again")
		}
		if start, is := t.(xml.StartElement); is {
			if r.root, err = scan.Tree(start); err != nil {
				return err
			}
		}
	}
	for {
		t, err := scan.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		data, isText := t.(xml.CharData)
		if _, is := t.(xml.StartElement); is || isText && strings.TrimSpace(string(data)) != "" {
			return scan.Fault(scan.Start, "something follows the end of the score", "export or fetch the score again")
		}
	}
	prefix, name, prefixed := strings.Cut(r.root.Name, ":")
	if !prefixed {
		prefix, name = "", r.root.Name
	}
	r.layout.prefix = prefix
	switch name {
	case "mei":
	case "meiCorpus":
		return r.fault(r.root, "this is a corpus of several MEI documents, not one score", "take the <mei> of the piece out of it")
	default:
		return r.fault(r.root, fmt.Sprintf("this is no MEI document: its root element is <%s>", r.root.Name), "")
	}
	r.index(r.root)
	if r.elsewhere != nil {
		return r.fault(r.elsewhere, "a part of the document stands in another file (<"+r.elsewhere.Name+">)",
			"put it in its place first, as programs for XInclude do, and take that file")
	}
	return nil
}

// index takes the document's own prefix off the names, and finds elements by their ids.
func (r *reader) index(root *xmltree.Element) {
	var stack []*xmltree.Element
	for e := root; e != nil; {
		if r.layout.prefix != "" {
			e.Name = strings.TrimPrefix(e.Name, r.layout.prefix+":")
		}
		for i := len(stack) - 1; e.Name == "fing" && i >= 0 && stack[i].Name != "measure"; i-- {
			r.around[e.Span] = append(r.around[e.Span], stack[i])
		}
		if r.elsewhere == nil && included(e) {
			r.elsewhere = e
		}
		if k := idOf(e); k != "" {
			if strings.HasPrefix(k, idPrefix) {
				r.layout.ours = append(r.layout.ours, k)
			}
			if r.byID[k] == nil {
				r.byID[k] = e
			}
		}
		if e.First != nil {
			stack = append(stack, e)
			e = e.First
			continue
		}
		for e != nil && e.Next == nil {
			if len(stack) == 0 {
				return
			}
			e, stack = stack[len(stack)-1], stack[:len(stack)-1]
		}
		if e != nil {
			if e == root {
				return
			}
			e = e.Next
		}
	}
}

// music finds the head and the body, and reads all movements one after the other.
func (r *reader) music() error {
	r.head()
	body := r.find("music", "body")
	if body == nil {
		return r.fault(r.root, "the document has no music: there is no <body> in a <music>", "")
	}
	for c := range r.content(body) {
		if c.Name == "mdiv" {
			if err := r.mdiv(c); err != nil {
				return err
			}
		}
	}
	if len(r.measures) == 0 {
		return r.fault(body, "the music has no measure", "only common music notation in measures is read")
	}
	r.restAtEnd()
	r.expand()
	r.unread(body)
	return r.notation()
}

// mdiv reads a movement, or those in it.
func (r *reader) mdiv(e *xmltree.Element) error {
	for c := range r.content(e) {
		switch c.Name {
		case "mdiv":
			if err := r.mdiv(c); err != nil {
				return err
			}
		case "score":
			if err := r.section(c, 0); err != nil {
				return err
			}
		case "parts":
			if e.Child("score") == nil {
				return r.fault(c, "the music stands in separate parts; only scores are read", "export the score (<score>)")
			}
		}
	}
	return nil
}

// find goes down a path of children from the root.
func (r *reader) find(names ...string) *xmltree.Element {
	e := r.root
	for _, name := range names {
		e = e.Child(name)
	}
	return e
}

func (r *reader) fault(e *xmltree.Element, problem, hint string) error {
	return r.doc.Fault(int(e.Span.Start), problem, hint)
}

// mostOddities is how many oddities are kept.
const mostOddities = 1000

// oddAt notes something odd at an element, of a note or (nil) of a measure.
func (r *reader) oddAt(kind score.OddityKind, n *event, e *xmltree.Element, format string, args ...any) {
	if len(r.odd) < mostOddities {
		r.odd = append(r.odd, oddity{kind, n, max(len(r.measures)-1, 0), e, fmt.Sprintf(format, args...)})
	}
}

// place gives notes their layouts, and oddities their notes.
func (r *reader) place(s *score.Score, emitted []*event) {
	for _, p := range r.parts {
		r.layout.staves = append(r.layout.staves, p.staves)
	}
	for i, ev := range emitted {
		ev.index = i
		r.layout.notes = append(r.layout.notes, r.layoutOf(ev))
		s.Notes[i].BySign = ev.unmarked(r.measures[ev.measure]) && s.Notes[i].Kind == score.Pitched
		if s.Notes[i].BySign && !ev.bySign && !r.measures[ev.measure].copied {
			r.saidOnce(ev)
		}
		for k := range ev.fingers {
			if k < len(s.Notes[i].Indications) {
				s.Notes[i].Indications[k].Responsibility = r.responsible(ev.fingers[k].at)
			}
		}
	}
	for _, o := range r.odd {
		out := score.Oddity{
			Kind: o.kind, Note: -1, Measure: o.measure, Line: r.doc.Place(int(o.at.Span.Start)).Line, Detail: o.detail,
		}
		if o.event != nil && o.event.index >= 0 {
			n := &s.Notes[o.event.index]
			out.Note, out.Part, out.Measure = o.event.index, n.Part, n.Measure
		}
		s.Oddities = append(s.Oddities, out)
	}
	slices.SortStableFunc(s.Oddities, func(a, b score.Oddity) int {
		return cmp.Or(cmp.Compare(a.Measure, b.Measure), cmp.Compare(a.Part, b.Part), cmp.Compare(a.Line, b.Line))
	})
}

// idOf is the xml:id of an element.
func idOf(e *xmltree.Element) string {
	for i := range e.Attributes {
		if a := &e.Attributes[i]; a.Name.Local == "id" && a.Name.Space == "xml" {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}
