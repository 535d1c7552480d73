package musicxml

import (
	"fmt"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// standing changes the looks, the side and the order of digits that stand at a
// note. Each keeps its text; a new order puts whole elements into each other's
// places, so that what stands between them stays.
func (s *splicer) standing(lay *noteLayout, m score.Mark) error {
	now := make([]string, len(lay.fingers))
	for i, at := range lay.fingers {
		now[i] = s.Text.Text[at.Start:at.End]
	}
	new := make([]string, len(now))
	copy(new, now)
	for _, r := range m.Restyles {
		if r.Ordinal < 0 || r.Ordinal >= len(lay.fingers) {
			return fmt.Errorf("note %d has no digit number %d", m.Note, r.Ordinal)
		}
		new[r.Ordinal] = s.restyled(lay.fingers[r.Ordinal], r)
	}
	if m.Order != nil {
		if err := score.Permutes(m.Order, len(lay.fingers)); err != nil {
			return fmt.Errorf("note %d: %w", m.Note, err)
		}
		moved := make([]string, len(new))
		for place, from := range m.Order {
			moved[place] = new[from]
		}
		new = moved
	}
	for i, at := range lay.fingers {
		if new[i] == now[i] {
			continue
		}
		// Where only the tag changed, only the tag is edited.
		open, rest := at.OpenEnd-at.Start, s.Text.Text[at.OpenEnd:at.End]
		if tail := len(new[i]) - len(rest); tail > 0 && new[i][tail:] == rest {
			s.replace(xmltree.Span{Start: at.Start, End: at.Start + open}, new[i][:tail])
		} else {
			s.replace(at, new[i])
		}
	}
	return nil
}

// restyled is a fingering with other attributes in its open tag and nothing
// else changed.
func (s *splicer) restyled(at xmltree.Span, r score.Restyle) string {
	tag := s.Text.Text[at.Start:at.OpenEnd]
	for _, a := range styleAttributes(r.Style, r.Placement, true) {
		tag = xmltree.WithAttribute(tag, a)
	}
	return tag + s.Text.Text[at.OpenEnd:at.End]
}
