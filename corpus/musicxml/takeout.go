package musicxml

import (
	"regexp"
	"strings"

	"fingerproof/corpus/source"
	"fingerproof/corpus/source/xmltree"
)

var (
	emptyTechnical = regexp.MustCompile(`\s*<technical\s*>\s*</technical\s*>|\s*<technical\s*/>`)
	emptyNotations = regexp.MustCompile(`\s*<notations\s*>\s*</notations\s*>|\s*<notations\s*/>`)
)

// TakeOut gives the edits that take digits out of a document, by note and
// indication, with what an edition says of itself in the head: its fields and
// its legend. Everything else stays as it is.
func TakeOut(doc *source.Document, layout *Layout, digits [][]bool) []source.Edit {
	edits := TakeOutDigits(doc, layout, digits)
	cut := func(at xmltree.Span, with string) {
		edits = append(edits, source.Edit{Offset: int(at.Start), Old: doc.Text[at.Start:at.End], New: with})
	}
	for _, at := range layout.head.fields {
		cut(at, "")
	}
	if layout.head.legend.Exists() {
		cut(layout.head.legend, "")
	}
	source.Sort(edits)
	return edits
}

// TakeOutDigits gives the edits that take digits out of a document, by note and indication, and nothing else.
func TakeOutDigits(doc *source.Document, layout *Layout, digits [][]bool) []source.Edit {
	var edits []source.Edit
	for i := range layout.notes {
		if i >= len(digits) {
			break
		}
		lay := &layout.notes[i]
		var text strings.Builder
		at, any := lay.note.Start, false
		for k, finger := range lay.fingers {
			if k >= len(digits[i]) || !digits[i][k] {
				continue
			}
			before := strings.TrimRight(doc.Text[at:finger.Start], " \t\r\n")
			text.WriteString(before)
			at, any = finger.End, true
		}
		if !any {
			continue
		}
		text.WriteString(doc.Text[at:lay.note.End])
		edits = append(edits, source.Edit{
			Offset: int(lay.note.Start), Old: doc.Text[lay.note.Start:lay.note.End],
			New: emptyNotations.ReplaceAllString(emptyTechnical.ReplaceAllString(text.String(), ""), ""),
		})
	}
	source.Sort(edits)
	return edits
}
