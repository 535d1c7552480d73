package musicxml

import (
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

// FieldPrefix begins the names of the miscellaneous fields that are ours.
const FieldPrefix = "fingerproof-"

// reader gathers one document's music.
type reader struct {
	scan       *xmltree.Scanner
	limits     Limits
	tracker    *source.Tracker
	score      *score.Score
	layout     *Layout
	listed     map[string]int // part id → index in score.Parts
	listedAt   []int          // the lines of the list of parts, parallel to score.Parts
	seen       map[string]bool
	ids        map[string]bool
	lengths    []score.Fraction         // by measure, the longest part
	played     []measureLength          // by part and measure
	voiceEnd   map[voiceKey]*voiceCount // how often each voice fills its measures
	voiceOrder []voiceKey
	// hiddenEndings says that brackets of endings are there that are not shown.
	hiddenEndings bool
	numbers       []score.Oddity // measures that are numbered otherwise than in the first part
	tupletSigns   [2]int         // how many signs of tuplets are opened and closed, and how many are not
	// Where beams, ties and note values are written as nowhere else in the score.
	beamEnds, beamCounts, tieForms, valueForms, glissandos, tremolos, trillLines, tupletSpans signs

	cue       map[staffKey]bool // ossia and cue staves
	atEnd     []int             // items that stand at the right barline of their measure
	lines     []lineEnd
	signed    []signed // where signs stand instead of notes
	stretches []int32  // by note: notes of one voice without a jump share a number
}

// staffKey names a staff of a part.
type staffKey struct{ part, staff int }

// Read turns a document into music and says where everything stands in it.
// Errors are *source.Error and name file and place.
func Read(doc *source.Document, limits Limits) (*score.Score, *Layout, error) {
	if err := xmltree.GuardTags(doc); err != nil {
		return nil, nil, err
	}
	r := newReader(doc, limits)
	if err := r.document(); err != nil {
		return nil, nil, err
	}
	r.finish()
	return r.score, r.layout, nil
}

func newReader(doc *source.Document, limits Limits) *reader {
	notes := min(strings.Count(doc.Text, "</note>"), limits.Notes)
	return &reader{
		scan: xmltree.NewScanner(doc, limits.tree()), limits: limits, tracker: source.NewTracker(doc.Text),
		score:  &score.Score{Format: "musicxml", Notes: make([]score.Note, 0, notes)},
		layout: &Layout{head: headLayout{fields: map[string]xmltree.Span{}}, notes: make([]noteLayout, 0, notes)},
		listed: map[string]int{}, seen: map[string]bool{}, ids: map[string]bool{},
		cue: map[staffKey]bool{},
	}
}

func (r *reader) document() error {
	root, err := r.root()
	if err != nil {
		return err
	}
	r.score.Version = attr(root, "version")
	r.layout.head.beforePartList = int32(r.scan.End)
	timewise := xmltree.FullName(root.Name) == "score-timewise"
	var measures []*xmltree.Element
	for {
		t, err := r.scan.Token()
		if err != nil {
			return unexpectedEnd(err)
		}
		switch t := t.(type) {
		case xml.EndElement:
			if timewise {
				err = r.partsOf(measures)
			}
			return cmp.Or(err, r.afterRoot())
		case xml.StartElement:
			switch name := xmltree.FullName(t.Name); {
			case name == "part" && !timewise:
				err = r.part(t)
			case name == "measure" && timewise:
				measures, err = r.timewiseMeasure(measures, t)
			default:
				err = r.headChild(t)
			}
			if err != nil {
				return err
			}
		}
	}
}

// root finds the root element and refuses what is no score.
func (r *reader) root() (xml.StartElement, error) {
	none := xml.StartElement{}
	stray := -1 // where text stands before the root
	for {
		t, err := r.scan.Token()
		if errors.Is(err, io.EOF) {
			return none, r.scan.Fault(0, "there is no score in this file: it holds no XML element", "export the score as MusicXML")
		}
		if err != nil {
			return none, err
		}
		start, ok := t.(xml.StartElement)
		if !ok {
			if stray < 0 && isText(t) {
				stray = r.scan.Start
			}
			continue
		}
		if stray >= 0 {
			return none, r.scan.Fault(stray, fmt.Sprintf("text stands before the root element <%s>", xmltree.FullName(start.Name)), "export or fetch the score again")
		}
		switch name := xmltree.FullName(start.Name); name {
		case "score-partwise", "score-timewise":
			return start, nil
		case "mei", "meiCorpus":
			return none, r.scan.Fault(r.scan.Start, "this is an MEI document, not MusicXML", "export the score as MusicXML")
		case "html", "HTML":
			return none, r.scan.Fault(r.scan.Start, "this is a web page, not a score", "fetch the score file itself")
		case "container":
			return none, r.scan.Fault(r.scan.Start, "this is the list of contents of a compressed score, not the score", "give the .mxl file itself")
		default:
			return none, r.scan.Fault(r.scan.Start, fmt.Sprintf("this is XML, but no score: its root element is <%s>", name), "export the score as MusicXML (partwise)")
		}
	}
}

// afterRoot accepts nothing but comments and white space after the score.
func (r *reader) afterRoot() error {
	for {
		t, err := r.scan.Token()
		if errors.Is(err, io.EOF) {
			return r.checkParts()
		}
		if err != nil {
			return err
		}
		if start, ok := t.(xml.StartElement); ok {
			return r.scan.Fault(r.scan.Start, fmt.Sprintf("a second root element <%s> follows the score", xmltree.FullName(start.Name)), "")
		}
		if isText(t) {
			return r.scan.Fault(r.scan.Start, "text follows the end of the score", "export or fetch the score again")
		}
	}
}

// isText reports whether a token is text other than white space.
func isText(t xml.Token) bool {
	data, ok := t.(xml.CharData)
	return ok && strings.TrimSpace(string(data)) != ""
}

func (r *reader) checkParts() error {
	if len(r.seen) == 0 {
		return r.scan.Fault(0, "the score has no part, so no music", "")
	}
	if len(r.score.Measures) == 0 {
		return r.scan.Fault(0, "the score has no measure", "")
	}
	return nil
}

func unexpectedEnd(err error) error {
	if errors.Is(err, io.EOF) {
		return io.ErrUnexpectedEOF // cannot happen: the scanner reports open elements
	}
	return err
}

func attr(start xml.StartElement, name string) string {
	for _, a := range start.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

// place gives line and column of an offset; offsets are asked in rising order.
func (r *reader) place(offset int32) source.Place { return r.tracker.At(int(offset)) }

// mostOddities is how many oddities are kept: a hopeless file would bury its editor in them.
const mostOddities = 1000

func (r *reader) odd(kind score.OddityKind, note, part, measure, line int, format string, args ...any) {
	if len(r.score.Oddities) < mostOddities {
		r.score.Oddities = append(r.score.Oddities, score.Oddity{Kind: kind, Note: note, Part: part, Measure: measure, Line: line, Detail: fmt.Sprintf(format, args...)})
	}
}
