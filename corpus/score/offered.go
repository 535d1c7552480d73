package score

import "strings"

// OfferedField is the name of the field in which an edition lists the notes at
// which it offers a redistribution by a hand sign in parentheses: their n and
// the hand, as in "12L 40R".
const OfferedField = "offered"

// Offered says whether a direction offers notes to a hand and says nothing of who plays the text as written: a hand
// sign in parentheses with the finger of the other hand at a note that it names, as an alternative or in parentheses
// too. That is our own convention of print, and is read by what is printed and not by what a file says of itself, so
// that an edition whose record is lost, or that another program has written anew, turns no offer into a fact. A sign in
// parentheses without such a finger is an editor's, as printed music has them: it says who plays.
func (s *Score) Offered(d *Direction) bool {
	text := strings.TrimSpace(d.Text)
	if d.Kind != HandSign || !strings.HasPrefix(text, "(") || !strings.HasSuffix(text, ")") {
		return false
	}
	for i := range s.Notes {
		n := &s.Notes[i]
		if n.Part != d.Part || n.Measure != d.Measure || !n.Onset.Equal(d.Onset) {
			continue
		}
		for k := range n.Indications {
			if in := &n.Indications[k]; in.Alternate || in.Style.Enclosure == Parentheses {
				return true
			}
		}
	}
	return false
}
