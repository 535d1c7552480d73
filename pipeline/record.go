package pipeline

import (
	"fmt"
	"strings"

	"fingerproof/corpus/wording"
)

// RecordWords says what became of the record in the head of an edition of ours
// that another program has changed since: how much of it still fits the music,
// and what does not. It is "" for any other score.
func (run *PieceRun) RecordWords() string {
	switch h := run.Held; {
	case h != nil && h.Lost+h.Unknown+h.Dropped == 0:
		return fmt.Sprintf("another program has written this edition anew; "+
			"its record fits the music: %s, each known as before",
			wording.Count(h.Fit, "digit"))
	case h != nil:
		var parts []string
		for _, part := range []struct {
			n    int
			what string
		}{
			{h.Lost, "digits gone or changed: %d"},
			{h.Unknown, "digits that it does not have: %d, whose they are their look says, else they are taken as text"},
			{h.Dropped, "decisions whose notes are not found: %d"},
		} {
			if part.n > 0 {
				parts = append(parts, fmt.Sprintf(part.what, part.n))
			}
		}
		return fmt.Sprintf("another program has changed this edition; its record still fits %s; %s",
			wording.Count(h.Fit, "digit"), strings.Join(parts, "; "))
	case run.Changed != nil:
		return "another program has changed this edition, and its record names no music to be held against: " +
			"whose its digits are only their looks say"
	case run.Embedded == nil && run.Score != nil && run.Score.Edition != nil:
		return "this edition has lost its record: whose its digits are only their looks say"
	}
	return ""
}
