package source

import "strings"

// Place is a line and a column, both from one; columns count characters.
// LF, CR LF and a lone CR each end a line, as XML has it.
type Place struct{ Line, Column int }

// Tracker turns byte offsets into places. Asking in rising order costs one
// pass over the text in all, also where the whole file is a single line; going
// back costs a short stretch.
type Tracker struct {
	text   string
	offset int
	place  Place
	marks  []mark // places on the way, a stretch apart
}

// mark is a place that was passed.
type mark struct {
	offset int
	place  Place
}

// stretch is how far marks are apart.
const stretch = 4096

// NewTracker starts at the beginning of the text.
func NewTracker(text string) *Tracker {
	return &Tracker{text: text, place: Place{1, 1}, marks: []mark{{0, Place{1, 1}}}}
}

// At returns the place of a byte offset.
func (t *Tracker) At(offset int) Place {
	offset = min(max(offset, 0), len(t.text))
	if offset < t.offset {
		m := t.marks[min(offset/stretch, len(t.marks)-1)]
		t.offset, t.place = m.offset, m.place
	}
	for t.offset < offset {
		if t.offset == len(t.marks)*stretch {
			t.marks = append(t.marks, mark{t.offset, t.place})
		}
		t.to(min(offset, (t.offset/stretch+1)*stretch))
	}
	return t.place
}

// to goes on to an offset. Most text has no return, and only the last of its lines is looked at letter by letter.
func (t *Tracker) to(offset int) {
	if on := t.text[t.offset:offset]; strings.IndexByte(on, '\r') < 0 {
		if lines := strings.Count(on, "\n"); lines > 0 {
			t.place = Place{t.place.Line + lines, 1}
			t.offset += strings.LastIndexByte(on, '\n') + 1
		}
	}
	for ; t.offset < offset; t.offset++ {
		switch c := t.text[t.offset]; {
		case c == '\n':
			t.place = Place{t.place.Line + 1, 1}
		case c == '\r':
			if t.offset+1 == len(t.text) || t.text[t.offset+1] != '\n' {
				t.place = Place{t.place.Line + 1, 1}
			}
		case c < 0x80 || c >= 0xC0: // not a continuation byte: a new character
			t.place.Column++
		}
	}
}
