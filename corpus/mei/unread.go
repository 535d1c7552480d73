package mei

import (
	"fmt"
	"strings"

	"fingerproof/corpus/score"
	"fingerproof/corpus/source/xmltree"
)

// unread says where the music of a document has something that is not read as music, though it stands for some: gaps,
// marks to copy music, readings of which none is the edition's own.
func (r *reader) unread(e *xmltree.Element) {
	for c := e.First; c != nil; c = c.Next {
		switch {
		case c.Name == "del" && e.Name != "restore":
			continue
		case c.Name == "gap":
			r.said(score.OddNoDigits, c, "a gap in the text stands here (<gap>%s): what is missing is neither looked at nor fingered",
				because(c.Attribute("reason")))
		case c.Name == "cpMark":
			r.said(score.OddNoDigits, c, "a mark to copy music stands here (<cpMark>%s): what it stands for is not looked at, and gets no "+
				"digits", because(r.textOf(c)))
		case c.Name == "app":
			chosen := r.reading(c)
			if chosen == nil {
				continue
			}
			if chosen.Name == "rdg" && c.Child("lem") == nil && len(r.sources) == 0 {
				r.said(score.OddValue, c, "an apparatus stands here without a reading of the edition's own (<lem>): its first reading is taken")
			}
			r.unread(chosen)
			continue
		case c.Name == "choice":
			if chosen := r.chosen(c); chosen != nil {
				r.unread(chosen)
			}
			continue
		}
		r.unread(c)
	}
}

// because is what a document says of a place, in words that follow others.
func because(said string) string {
	if said = plain(said); said == "" {
		return ""
	}
	return fmt.Sprintf(": %.40s", said)
}

// said notes something odd at an element, wherever it stands.
func (r *reader) said(kind score.OddityKind, e *xmltree.Element, format string, args ...any) {
	if len(r.odd) < mostOddities {
		r.odd = append(r.odd, oddity{kind, nil, r.measureAt(e), e, fmt.Sprintf(format, args...)})
	}
}

// measureAt is the measure in which an element stands, or the last that is written before it: never one of a section that
// is a copy, whose places in the document are those of other measures.
func (r *reader) measureAt(e *xmltree.Element) int {
	at, begins := 0, int32(-1)
	for i, m := range r.layout.measures {
		if m.Start <= e.Span.Start && m.Start > begins && !r.measures[i].elsewhere {
			at, begins = i, m.Start
		}
	}
	return at
}

// included finds what stands in other files, which are not read.
func included(e *xmltree.Element) bool {
	return e.Name == "include" || strings.HasSuffix(e.Name, ":include")
}
