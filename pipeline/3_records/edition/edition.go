// Package edition is what a marked score of ours carries in its head beside the
// text it was made from: whose its digits are, what the editors decided, and how
// the marks are taken out again.
package edition

import (
	"strings"

	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
)

// recordField is the name of the field in which an edition carries what was
// done to its text.
const recordField = "record"

const (
	recordBefore = `<miscellaneous-field name="` + musicxml.FieldPrefix + recordField + `">`
	recordAfter  = `</miscellaneous-field>`
)

// Embedded is what an edition carries along beside its text. Notes are named by
// their place in Score.Notes.
type Embedded struct {
	// Whose has a letter for each digit that stands in the text, in order: the
	// first letter of its responsibility, d for the editor's.
	Whose string `json:"whose,omitempty"`
	// Digits that were added and are not open.
	Digits []Digit `json:"digits,omitempty"`
	// What the editors decided, printed or not.
	Decided         []Decision       `json:"decided,omitempty"`
	Redistributions []Redistribution `json:"redistributions,omitempty"`
	Declined        [][]int          `json:"declined,omitempty"` // redistributions decided against, by their notes
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
}

// Redistribution is a redistribution that was decided.
type Redistribution struct {
	ID      string     `json:"id"`
	To      score.Hand `json:"to"`
	Why     string     `json:"why,omitempty"`
	Notes   []int      `json:"notes"`
	Fingers []int      `json:"fingers"`
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
// what was done to it and no other program has changed it since. Otherwise the
// document is its own text, and nil comes with it.
func Unpack(doc *source.Document) (base *source.Document, embedded *Embedded) {
	_, rest, found := strings.Cut(doc.Text, recordBefore)
	if !found {
		return doc, nil
	}
	content, _, found := strings.Cut(rest, recordAfter)
	if !found {
		return doc, nil
	}
	var e Embedded
	text, ok := source.Unpack(doc.Text, recordBefore, content, recordAfter, &e)
	if !ok {
		return doc, nil
	}
	return doc.WithText(text), &e
}

// Text is what marks are put into.
type Text struct {
	Document *source.Document // as given
	Base     *source.Document // the text it was made from; the document itself where it is no edition
	Layout   *musicxml.Layout // of Base
}

// Pack splices a marking into the text and gives the edits of the document
// that was given. What was done to the text goes along in the head.
func Pack(t Text, marking score.Marking, e Embedded, options musicxml.SpliceOptions) ([]source.Edit, error) {
	marking.Fields = append(marking.Fields, score.Field{Name: recordField})
	edits, err := musicxml.Splice(t.Base, t.Layout, marking, options)
	if err != nil {
		return nil, err
	}
	empty, full := recordBefore+recordAfter, recordBefore+"%s"+recordAfter
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
