package score

import (
	"fmt"
	"slices"
)

// SpliceOptions choose between the ways that formats have of writing marks.
type SpliceOptions struct {
	// Level, where not empty, puts added digits into a <notations> of MusicXML
	// of their own that says so (<level>), the standard's way of keeping
	// editorial layers apart. Common importers then lose them (they read the
	// first <notations> only), so the default joins the layers.
	Level string
}

// Marking is everything that is to be written into one document, in no
// format's own terms: each door to the outside turns it into edits.
type Marking struct {
	Marks  []Mark  // in rising order of Note, at most one a note
	Fields []Field // what the edition says of itself, in the order they shall stand
	Legend string  // explains the looks of digits on the first page, a line for each; empty for none
}

// Field is a name and a value in the document's head. The door adds the
// program's prefix to the name and replaces a field of the same name.
type Field struct{ Name, Value string }

// Mark is what happens at one note.
type Mark struct {
	Note     int // index in Score.Notes
	Digits   []MarkDigit
	Restyles []Restyle
	// Order is the order in which the note's indications shall stand: indices
	// into Note.Indications, each once. Nil leaves them as they are.
	Order      []int
	Directions []MarkDirection
	Roll       *MarkRoll // nil: none is added
	// Staff is the staff the note shall stand on, 1… within its part, its voice
	// kept; 0 leaves it where it is. Stem ("up", "down", or empty) is how its
	// stem shall then point, where the document says how.
	Staff int
	Stem  string
}

// MarkDigit is a digit to be added at a note.
type MarkDigit struct {
	Text         string // "3", "3-4"; without the enclosure
	Substitution bool
	Alternate    bool
	Style        Style
	Placement    Placement
	// Who is responsible for it, and by which name, for formats that say so.
	Who   Responsibility
	Agent string
}

// Enclosed is the text of the digit in the parentheses or brackets of its style.
func (d MarkDigit) Enclosed() string {
	switch d.Style.Enclosure {
	case Parentheses:
		return "(" + d.Text + ")"
	case Brackets:
		return "[" + d.Text + "]"
	}
	return d.Text
}

// MarkRoll is the sign of a rolled chord to be added at each of its notes.
type MarkRoll struct {
	Down      bool      // from the highest key; the sign has an arrow
	Number    int       // joins the signs of two staves to one; 0 for a sign of its own
	Enclosure Enclosure // that of the layer: brackets where it was decided, parentheses where it is offered
	Small     bool
}

// Restyle changes how an indication looks that stands in the document; its
// digit cannot be changed. Empty size, colour and placement stay as they are;
// italic and bold become what Style says.
type Restyle struct {
	Ordinal   int // index in Note.Indications
	Style     Style
	Placement Placement
}

// MarkDirection is a hand sign or an end of a hand bracket to be added at a
// note. Signs and bracket starts stand before the note (before its chord),
// bracket stops after it.
type MarkDirection struct {
	Kind      MarkDirectionKind
	Text      string // of a sign: "m.s."
	Style     Style
	Placement Placement
	Staff     int  // 0: the note's own
	Number    int  // of a bracket, 1…16; 0 is taken as 1
	HookUp    bool // of a bracket's end: the hook points up, else down
	// Voice is the voice that a sign names, "" for all that stands there.
	Voice string
	// Change says of a sign that it shows who plays the text as it is written: nothing is offered by it.
	Change bool
	// Decided says of such a sign that it is that of a redistribution that an editor decided.
	Decided bool
}

// MarkDirectionKind says what is added.
type MarkDirectionKind uint8

// What can be added beside the digits.
const (
	MarkSign MarkDirectionKind = iota
	MarkBracketStart
	MarkBracketStop
	MarkRollWords // beside the sign of a rolled chord
)

// Direct adds a direction at a note.
func (m *Marking) Direct(note int, d MarkDirection) {
	k := m.place(note)
	m.Marks[k].Directions = append(m.Marks[k].Directions, d)
}

// Roll adds the sign of a rolled chord at a note.
func (m *Marking) Roll(note int, r MarkRoll) { m.Marks[m.place(note)].Roll = &r }

// Undirect takes directions at a note out again.
func (m *Marking) Undirect(note int, gone func(*MarkDirection) bool) {
	for k := range m.Marks {
		if m.Marks[k].Note == note {
			m.Marks[k].Directions = slices.DeleteFunc(m.Marks[k].Directions,
				func(d MarkDirection) bool { return gone(&d) })
		}
	}
}

// Digit adds a digit at a note, unless an alternative is offered there already.
func (m *Marking) Digit(note int, d MarkDigit) {
	k := m.place(note)
	for _, has := range m.Marks[k].Digits {
		if has.Alternate && d.Alternate {
			return
		}
	}
	m.Marks[k].Digits = append(m.Marks[k].Digits, d)
}

// Move puts a note on another staff.
func (m *Marking) Move(note, staff int, stem string) {
	k := m.place(note)
	m.Marks[k].Staff, m.Marks[k].Stem = staff, stem
}

// place finds the mark of a note, or makes one.
func (m *Marking) place(note int) int {
	k := 0
	for k < len(m.Marks) && m.Marks[k].Note < note {
		k++
	}
	if k == len(m.Marks) || m.Marks[k].Note != note {
		m.Marks = append(m.Marks[:k], append([]Mark{{Note: note}}, m.Marks[k:]...)...)
	}
	return k
}

// Permutes refuses an order that does not name each of n digits once.
func Permutes(order []int, n int) error {
	seen := make([]bool, n)
	for _, k := range order {
		if k < 0 || k >= n || seen[k] {
			return fmt.Errorf("%v is no order of %d digits", order, n)
		}
		seen[k] = true
	}
	if len(order) != n {
		return fmt.Errorf("%v is no order of %d digits", order, n)
	}
	return nil
}
