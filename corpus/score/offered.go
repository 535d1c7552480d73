package score

import (
	"strconv"
	"strings"
)

// OfferedField is the name of the field in which an edition lists the notes at
// which it offers a redistribution by a hand sign in parentheses: their n and
// the hand, as in "12L 40R".
const OfferedField = "offered"

// Offered says whether a hand sign is one that this program's edition offers,
// which says nothing of who plays the text as written.
func (s *Score) Offered(d *Direction) bool {
	if s.Edition == nil || d.Kind != HandSign || !strings.HasPrefix(d.Text, "(") {
		return false
	}
	for _, entry := range strings.Fields(s.Edition.Fields[OfferedField]) {
		at, err := strconv.Atoi(entry[:len(entry)-1])
		if err != nil || at < 0 || at >= len(s.Notes) || entry[len(entry)-1:] != d.Hand.String() {
			continue
		}
		if n := &s.Notes[at]; n.Part == d.Part && n.Measure == d.Measure && n.Onset == d.Onset {
			return true
		}
	}
	return false
}
