package musicxml

import (
	"encoding/xml"
	"fmt"
	"slices"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

// Tree is a score whose elements are at hand already, in the words of
// score-partwise: timewise scores are turned into one, and so is what other
// formats say. Its places are those of the document that it was read from.
type Tree struct {
	Format, Version string
	Head            []*xmltree.Element // what stands before the parts, the list of parts among it
	Parts           []PartTree
}

// PartTree is a part with its measures, <measure> elements.
type PartTree struct {
	ID       string
	At       int // where it stands in the text
	Measures []*xmltree.Element
}

// ReadTree turns a tree into music, as Read does with a document. Notes stand in
// the order of their elements: part by part, measure by measure.
func ReadTree(doc *source.Document, tree Tree, limits Limits) (*score.Score, error) {
	r := newReader(doc, limits)
	r.score.Format, r.score.Version = tree.Format, tree.Version
	for _, e := range tree.Head {
		if err := r.headElement(e); err != nil {
			return nil, err
		}
	}
	for i := range tree.Parts {
		if err := r.partTree(&tree.Parts[i]); err != nil {
			return nil, err
		}
	}
	if err := r.checkParts(); err != nil {
		return nil, err
	}
	r.finish()
	return r.score, nil
}

// partTree reads a part whose measures are at hand.
func (r *reader) partTree(t *PartTree) error {
	p, err := r.newPart(t.ID, t.At)
	if err != nil {
		return err
	}
	for _, m := range t.Measures {
		if err := p.mayHaveMeasure(int(m.Span.Start)); err != nil {
			return err
		}
		p.openMeasure(m.Attribute("number"), m.Attribute("implicit") == "yes")
		for c := m.First; c != nil; c = c.Next {
			if err := p.measureChild(c); err != nil {
				return err
			}
		}
		p.closeMeasure(p.place(m.Span.Start).Line)
		if err := p.checkCrowd(); err != nil {
			return err
		}
		p.measure++
	}
	p.closeBeams()
	return nil
}

// mostElements bounds a score that has to be held whole: some ten times the notes that are allowed.
const mostElements = 3_000_000

// timewiseMeasure keeps a measure of all parts.
func (r *reader) timewiseMeasure(measures []*xmltree.Element, start xml.StartElement) ([]*xmltree.Element, error) {
	if len(measures) == 0 {
		r.scan.Reset()
	}
	at := r.scan.Start
	e, err := r.scan.Tree(start)
	if err != nil {
		return nil, err
	}
	if r.scan.Held() > mostElements {
		return nil, r.scan.Fault(at, fmt.Sprintf("the score has more than %d elements", mostElements), "")
	}
	return append(measures, e), nil
}

// partsOf reads the parts of a timewise score.
func (r *reader) partsOf(measures []*xmltree.Element) error {
	parts, err := r.turned(measures)
	if err != nil {
		return err
	}
	for i := range parts {
		if err := r.partTree(&parts[i]); err != nil {
			return err
		}
	}
	return nil
}

// turned turns a timewise score round: its measures hold parts, and each part gets its own of every measure.
func (r *reader) turned(measures []*xmltree.Element) ([]PartTree, error) {
	var parts []PartTree
	gaps := 0
	for i, m := range measures {
		for c := m.First; c != nil; c = c.Next {
			if c.Name != "part" {
				return nil, r.scan.Fault(int(c.Span.Start), fmt.Sprintf("<%s> stands where a part should", c.Name), "")
			}
			id := c.Attribute("id")
			k := slices.IndexFunc(parts, func(p PartTree) bool { return p.ID == id })
			if k < 0 {
				k = len(parts)
				if k >= r.limits.Parts {
					return nil, r.scan.Fault(int(c.Span.Start), fmt.Sprintf("the score has more than %d parts", r.limits.Parts), "")
				}
				parts = append(parts, PartTree{ID: id, At: int(c.Span.Start)})
			}
			if len(parts[k].Measures) > i {
				return nil, r.scan.Fault(int(c.Span.Start), fmt.Sprintf("part %q stands in the measure twice", id), "")
			}
			for len(parts[k].Measures) < i { // measures that lack the part
				if gaps++; gaps > mostElements {
					return nil, r.scan.Fault(int(c.Span.Start), "the measures of this score lack more parts than any score has", "")
				}
				gap := measures[len(parts[k].Measures)]
				parts[k].Measures = append(parts[k].Measures, &xmltree.Element{
					Name: "measure", Attributes: gap.Attributes, Span: gap.Span,
				})
			}
			parts[k].Measures = append(parts[k].Measures, &xmltree.Element{
				Name: "measure", Attributes: m.Attributes, Span: c.Span, First: c.First, Last: c.Last,
			})
		}
	}
	// In the order of the list, as a partwise score has them.
	slices.SortStableFunc(parts, func(a, b PartTree) int { return r.listed[a.ID] - r.listed[b.ID] })
	return parts, nil
}
