package musicxml

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

var (
	emptyTechnical = regexp.MustCompile(`\s*<technical\s*>\s*</technical\s*>|\s*<technical\s*/>`)
	emptyNotations = regexp.MustCompile(`\s*<notations\s*>\s*</notations\s*>|\s*<notations\s*/>`)
)

// bareLayer is a <notations> in which nothing stands but the layer that something taken out belonged to.
var bareLayer = regexp.MustCompile(`\s*<notations[^>]*>\s*<level[^>]*>[^<]*</level\s*>\s*</notations\s*>`)

// TakeOut gives the edits that take digits out of a document, by note and indication, with the rolls that an edition has
// added, by the words beside their signs, and with what an edition says of itself in the head: its fields and its legend.
// Everything else stays as it is.
func TakeOut(doc *source.Document, layout *Layout, digits [][]bool) []source.Edit {
	edits := takeOutOfNotes(doc, layout, digits, true)
	cut := func(at xmltree.Span) {
		edits = append(edits, source.Edit{Offset: int(at.Start), Old: doc.Text[at.Start:at.End]})
	}
	for _, at := range layout.rollWords {
		cut(at)
	}
	for _, at := range layout.head.fields {
		cut(at)
	}
	if layout.head.legend.Exists() {
		cut(layout.head.legend)
	}
	source.Sort(edits)
	return edits
}

// TakeOutDigits gives the edits that take digits out of a document, by note and indication, and nothing else.
func TakeOutDigits(doc *source.Document, layout *Layout, digits [][]bool) []source.Edit {
	edits := takeOutOfNotes(doc, layout, digits, false)
	source.Sort(edits)
	return edits
}

// takeOutOfNotes takes digits out of notes, and rolls that an edition has added, with what held them.
func takeOutOfNotes(doc *source.Document, layout *Layout, digits [][]bool, rolls bool) (edits []source.Edit) {
	for i := range layout.notes {
		lay := &layout.notes[i]
		var gone []xmltree.Span
		for k, finger := range lay.fingers {
			if i < len(digits) && k < len(digits[i]) && digits[i][k] {
				gone = append(gone, finger)
			}
		}
		if rolls && lay.roll.Exists() {
			gone = append(gone, lay.roll)
		}
		if len(gone) == 0 {
			continue
		}
		slices.SortFunc(gone, func(a, b xmltree.Span) int { return cmp.Compare(a.Start, b.Start) })
		var text strings.Builder
		at := lay.note.Start
		for _, g := range gone {
			text.WriteString(strings.TrimRight(doc.Text[at:g.Start], " \t\r\n"))
			at = g.End
		}
		text.WriteString(doc.Text[at:lay.note.End])
		was, left := doc.Text[lay.note.Start:lay.note.End], text.String()
		left = emptyNotations.ReplaceAllString(emptyTechnical.ReplaceAllString(left, ""), "")
		if !bareLayer.MatchString(was) {
			left = bareLayer.ReplaceAllString(left, "")
		}
		edits = append(edits, source.Edit{Offset: int(lay.note.Start), Old: was, New: left})
	}
	return edits
}

// AddedRolls counts the signs of rolls that an edition has added.
func (l *Layout) AddedRolls() int { return len(l.rollWords) }
