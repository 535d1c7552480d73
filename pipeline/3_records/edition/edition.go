// Package edition is what a marked score of ours carries in its head beside the
// text it was made from: whose its digits are, what the editors decided, and how
// the marks are taken out again.
package edition

import (
	"fingerproof/corpus/format"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

// recordField is the name of the field in which an edition carries what was
// done to its text.
const recordField = "record"

// Carried says that a score's text is an edition of ours: it carries a record of what was done to its text.
func Carried(text string) bool {
	_, found := format.FieldIn(text, recordField)
	return found
}

// Embedded is what an edition carries along beside its text. Notes are named by
// their place in Score.Notes.
type Embedded struct {
	// Whose has a letter for each digit that stands in the text, in order: the
	// first letter of its responsibility, d for the editor's.
	Whose string `json:"whose,omitempty"`
	// Unattributed says that nothing told whose they are: they count as the composer's, and are called of the source.
	Unattributed bool `json:"unattributed,omitempty"`
	// Digits that were added and are not open.
	Digits []Digit `json:"digits,omitempty"`
	// What the editors decided, printed or not.
	Decided         []Decision       `json:"decided,omitempty"`
	Redistributions []Redistribution `json:"redistributions,omitempty"`
	Declined        [][]int          `json:"declined,omitempty"` // redistributions decided against, by their notes
	Seconds         []Second         `json:"seconds,omitempty"`  // fingers that were decided to be printed beside the first
	Rolls           []Roll           `json:"rolls,omitempty"`
	Unrolled        [][]int          `json:"unrolled,omitempty"` // chords decided not to be rolled, by their notes
	// Page lists the digits of the edition by the music they stand at, and Places the notes that are named above: so the
	// record can be held against a score that another program has written anew (hold.go).
	Page   string  `json:"page,omitempty"`
	Places []Place `json:"places,omitempty"`
}

// Place is the music at which a note stands that a record names by its place among the notes.
type Place struct {
	N  int    `json:"n"`
	At string `json:"at"`
}

// Digit is an added digit that someone is responsible for.
type Digit struct {
	N      int                  `json:"n"`
	Finger int                  `json:"finger"`
	Then   []int                `json:"then,omitempty"` // the rest of a change or of a row
	Who    score.Responsibility `json:"who"`
	Agent  string               `json:"agent,omitempty"`
	Sigla  []string             `json:"sigla,omitempty"`
}

// Decision is a digit that was decided: read without the decisions it was made
// with, it is decided still.
type Decision struct {
	N       int    `json:"n"`
	Verb    string `json:"verb"`
	Fingers []int  `json:"fingers,omitempty"`
	By      string `json:"by"`
	Always  bool   `json:"always,omitempty"`
	Carried bool   `json:"carried,omitempty"`
	// Entry is the place of the entry that took a suggestion among all, the oldest first, from 1; 0 for what is not taken. What else is
	// suggested goes by it (11_suggest/untold.go).
	Entry int `json:"entry,omitempty"`
}

// Redistribution is a redistribution that was decided.
type Redistribution struct {
	ID      string     `json:"id"`
	To      score.Hand `json:"to"`
	Reason  string     `json:"reason,omitempty"` // why it had been offered, "" where nobody says
	Why     string     `json:"why,omitempty"`
	Notes   []int      `json:"notes"`
	Fingers []int      `json:"fingers"`
}

// Second is a finger that was decided to be printed beside the first, as an alternative.
type Second struct {
	N      int    `json:"n"`
	Finger int    `json:"finger"`
	By     string `json:"by"`
	For    string `json:"for,omitempty"`
}

// Roll is a roll that was decided.
type Roll struct {
	ID     string `json:"id"`
	Down   bool   `json:"down,omitempty"`
	By     string `json:"by,omitempty"`
	Reason string `json:"reason,omitempty"` // why it had been offered, "" where nobody says
	Why    string `json:"why,omitempty"`
	Notes  []int  `json:"notes"`
}

var letters = map[byte]score.Responsibility{
	'c': score.Composer,
	'e': score.Earlier,
	'd': score.Editor,
	'o': score.Open,
}

func letterOf(who score.Responsibility) byte {
	for l, r := range letters { // one letter each: any order will do
		if r == who {
			return l
		}
	}
	return '-'
}

// Letters spells whose the digits of a text are, for Embedded.Whose.
func Letters(whose [][]score.Responsibility) string {
	var out []byte
	for _, digits := range whose {
		for _, who := range digits {
			out = append(out, letterOf(who))
		}
	}
	return string(out)
}

// Responsibilities gives whose each digit of a text is, by note and indication,
// as the edition carries it; false where it says nothing of this text.
func (e *Embedded) Responsibilities(s *score.Score) ([][]score.Responsibility, bool) {
	if e == nil {
		return nil, false
	}
	out, at := make([][]score.Responsibility, len(s.Notes)), 0
	for i := range s.Notes {
		for range s.Notes[i].Indications {
			if at >= len(e.Whose) || letters[e.Whose[at]] == score.Unattributed {
				return nil, false
			}
			out[i] = append(out[i], letters[e.Whose[at]])
			at++
		}
	}
	return out, at == len(e.Whose)
}

// Unpack takes an edition back to the text it was made from, where it carries
// what was done to it and no other program has changed it since. Where one has,
// the document is its own text, and what it carried comes as changed, to be held
// against its music. Otherwise the document is its own text, and nil comes with it.
func Unpack(doc *source.Document) (base *source.Document, embedded, changed *Embedded) {
	content, found := format.FieldIn(doc.Text, recordField)
	if !found {
		return doc, nil, nil
	}
	var e Embedded
	before, after := format.FieldTags(doc, recordField)
	text, ok := source.Unpack(doc.Text, before, content, after, &e)
	switch {
	case ok:
		return doc.WithText(text), &e, nil
	case source.Carried(content, &e):
		return doc, nil, &e
	}
	return doc, nil, nil
}

// OfEdits finds what an edition carried in the edits that made it; nil where they do not hold it.
func OfEdits(edits []source.Edit) *Embedded {
	for _, edit := range edits {
		if content, found := format.FieldIn(edit.New, recordField); found {
			var e Embedded
			if source.Carried(content, &e) {
				return &e
			}
		}
	}
	return nil
}

// Text is what marks are put into.
type Text struct {
	Document *source.Document // as given
	Base     *source.Document // the text it was made from; the document itself where it is no edition
	Layout   format.Layout    // of Base
}

// Pack splices a marking into the text and gives the edits of the document
// that was given. What was done to the text goes along in the head.
func Pack(t Text, marking score.Marking, e Embedded, options score.SpliceOptions) ([]source.Edit, error) {
	marking.Fields = append(marking.Fields, score.Field{Name: recordField})
	edits, err := t.Layout.Splice(t.Base, marking, options)
	if err != nil {
		return nil, err
	}
	before, after := format.FieldTags(t.Base, recordField)
	empty, full := before+after, before+"%s"+after
	if edits, err = source.Pack(t.Base.Text, edits, empty, full, e); err != nil {
		return nil, err
	}
	if t.Document == t.Base {
		return edits, nil
	}
	text, err := source.Apply(t.Base.Text, edits)
	if err != nil {
		return nil, err
	}
	return source.Whole(t.Document.Text, text), nil
}
