package score

import "strings"

// OfferedField is the name of the field in which an edition lists the notes at
// which it offers a redistribution by a hand sign in parentheses: their n and
// the hand, as in "12L 40R".
const OfferedField = "offered"

// Offered says whether a direction offers notes to a hand and says nothing of who plays the text as written: a hand
// sign in parentheses (our own convention of print, which is read by what is printed and not by what a file says of
// itself).
func (s *Score) Offered(d *Direction) bool {
	text := strings.TrimSpace(d.Text)
	return d.Kind == HandSign && strings.HasPrefix(text, "(") && strings.HasSuffix(text, ")")
}
