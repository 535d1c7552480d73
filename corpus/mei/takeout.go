package mei

import (
	"strings"

	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

// TakeOut gives the edits that take digits out of a document, by note and
// indication, with the signs of rolls that an edition has added and what it says
// of itself in the head: its fields, its legend and those whom it declares.
// Everything else stays as it is, the ids that notes were given among it.
func (l *Layout) TakeOut(doc *source.Document, digits [][]bool) []source.Edit {
	s := &splicer{Text: xmltree.TextOf(doc.Text), layout: l, edits: l.TakeOutDigits(doc, digits)}
	for _, at := range l.rolls {
		s.cut(at)
	}
	for _, at := range l.rollWords {
		s.cut(at)
	}
	for _, at := range l.head.fields { // sorted below
		s.cut(at)
	}
	for _, a := range l.head.agents {
		s.cut(a.span)
	}
	if l.head.legend.Exists() {
		s.cut(l.head.legend)
	}
	source.Sort(s.edits)
	return s.edits
}

// AddedRolls counts the signs of rolls that an edition has added.
func (l *Layout) AddedRolls() int { return len(l.rolls) }

// TakeOutDigits gives the edits that take digits out of a document, by note and indication, and nothing else.
func (l *Layout) TakeOutDigits(doc *source.Document, digits [][]bool) []source.Edit {
	s := &splicer{Text: xmltree.TextOf(doc.Text), layout: l}
	groups := map[xmltree.Span][]xmltree.Span{} // what goes of a group
	var order []xmltree.Span
	for i := range l.notes {
		for k, f := range l.notes[i].fingers {
			if i >= len(digits) || k >= len(digits[i]) || !digits[i][k] || f.copied {
				continue
			}
			if f.whole == f.at {
				s.cut(f.at)
				continue
			}
			if groups[f.whole] == nil {
				order = append(order, f.whole)
			}
			groups[f.whole] = append(groups[f.whole], f.at)
		}
	}
	for _, whole := range order {
		s.ungroup(whole, groups[whole])
	}
	source.Sort(s.edits)
	return s.edits
}

// ungroup takes digits out of a group: with the last but one the group, too, since it joins two at least. What is left
// then stands where the group stood.
func (s *splicer) ungroup(whole xmltree.Span, gone []xmltree.Span) {
	var left []xmltree.Span
	for _, f := range s.layout.grouped[whole] {
		keep := true
		for _, g := range gone {
			keep = keep && g != f
		}
		if keep {
			left = append(left, f)
		}
	}
	switch len(left) {
	case 0:
		s.cut(whole)
	case 1:
		tag, rest := s.Text.Text[left[0].Start:left[0].OpenEnd], s.Text.Text[left[0].OpenEnd:left[0].End]
		group := s.Text.Text[whole.Start:whole.OpenEnd]
		for _, name := range []string{"startid", "tstamp", "staff", "layer", "place"} {
			if v := xmltree.AttributeOf(group, name); v != "" && !strings.Contains(tag, " "+name+"=") {
				tag = xmltree.WithAttribute(tag, xmltree.Attribute{Name: name, Value: v})
			}
		}
		s.replace(whole, tag+rest)
	default:
		for _, g := range gone {
			s.cut(g)
		}
	}
}
