package check

import (
	"fmt"
	"slices"
	"strings"

	"fingerproof/corpus"
	"fingerproof/corpus/wording"
)

// TheCollection is what stands in the place of a piece's id where the collection as a whole has changed.
const TheCollection = "the collection"

// WithCollection tells once what has changed of the collection as a whole, its title or its front matter, and takes it out of
// the pieces: each of them has it, and none of them has changed by it. It stands first.
func WithCollection(pieces []Piece) []Piece {
	whole := Piece{ID: TheCollection, Whole: true}
	var with []int // for each of its changes, the pieces that were passed with what was
	out := slices.Clone(pieces)
	for i := range out {
		p := &out[i]
		var own []Change
		for _, c := range p.Changes {
			if c.Kind != Heading || !corpus.IsHeadOfCollection(c.Pitch) && !strings.HasPrefix(c.Cause, thePolicy+": ") {
				own = append(own, c)
				continue
			}
			k := slices.IndexFunc(whole.Changes, func(w Change) bool {
				return w.Pitch == c.Pitch && w.Old == c.Old && w.New == c.New && w.Cause == c.Cause
			})
			if k < 0 {
				k = len(whole.Changes)
				whole.Changes, with = append(whole.Changes, c), append(with, 0)
			}
			with[k]++
		}
		p.Changes = own
	}
	if len(whole.Changes) == 0 {
		return pieces
	}
	for k, n := range with {
		c := &whole.Changes[k]
		for i := range out { // of pieces that have fingers of it, it is the cause
			if strings.HasPrefix(c.Cause, thePolicy+": ") &&
				slices.ContainsFunc(pieces[i].Changes, func(o Change) bool { return o.Cause == c.Cause && o.Kind != Heading }) {
				n++
			}
		}
		if n < len(pieces) {
			whole.Notices = append(whole.Notices, fmt.Sprintf("%s: it was %s when %d of %s passed", c.Pitch, orNone(c.Old), n,
				wording.Count(len(pieces), "piece")))
		}
	}
	return append([]Piece{whole}, out...)
}
