package mei

import (
	"fmt"
	"regexp"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// standing changes the looks, the side and the order of digits that stand at a
// note. Each keeps its text; a new order puts whole elements into each other's
// places.
func (s *splicer) standing(lay *noteLayout, m score.Mark) error {
	now := make([]string, len(lay.fingers))
	for i, f := range lay.fingers {
		now[i] = s.Of(f.at)
	}
	after := append([]string(nil), now...)
	for _, r := range m.Restyles {
		if r.Ordinal < 0 || r.Ordinal >= len(lay.fingers) {
			return fmt.Errorf("note %d has no digit number %d", m.Note, r.Ordinal)
		}
		after[r.Ordinal] = s.restyled(lay.fingers[r.Ordinal].at, r)
	}
	if m.Order != nil {
		if err := score.Permutes(m.Order, len(lay.fingers)); err != nil {
			return fmt.Errorf("note %d: %w", m.Note, err)
		}
		moved := make([]string, len(after))
		for place, from := range m.Order {
			moved[place] = after[from]
		}
		after = moved
	}
	for i, f := range lay.fingers {
		if after[i] != now[i] && !f.copied {
			s.replace(f.at, after[i])
		}
	}
	return nil
}

var oneRend = regexp.MustCompile(`(?s)^(\s*)(<(?:\w+:)?rend\b[^>]*>)(.*)(</(?:\w+:)?rend\s*>)(\s*)$`)

// restyled is a digit in other letters and on another side, and with nothing else changed.
func (s *splicer) restyled(at xmltree.Span, r score.Restyle) string {
	tag := s.Text.Text[at.Start:at.OpenEnd]
	if r.Placement != score.PlacementUnset {
		tag = xmltree.WithAttribute(tag, xmltree.Attribute{Name: "place", Value: placeOf(r.Placement)})
	}
	if at.SelfClosing() {
		return tag
	}
	inside, end := s.Text.Text[at.OpenEnd:at.CloseStart], s.Text.Text[at.CloseStart:at.End]
	if m := oneRend.FindStringSubmatch(inside); m != nil && strings.Count(inside, "rend") == 2 {
		rend := m[2]
		for _, a := range styleAttributes(r.Style, true) {
			rend = xmltree.WithAttribute(rend, a)
		}
		return tag + m[1] + rend + m[3] + m[4] + m[5] + end
	}
	var b strings.Builder
	xmltree.WriteAttributes(&b, styleAttributes(r.Style, false))
	if b.Len() == 0 || strings.Contains(inside, "rend") {
		return tag + inside + end
	}
	return tag + "<" + s.name("rend") + b.String() + ">" + inside + "</" + s.name("rend") + ">" + end
}
