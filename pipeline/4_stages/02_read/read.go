// Package read is the stage that reads the music out of a document.
package read

import (
	"fingerproof/corpus/format"
	"fingerproof/corpus/score"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/edition"
)

// Input is a document and the text it was made from, as the stage before opened them.
type Input struct {
	Document, Base *source.Document
	// Changed is what an edition carries that another program has changed since; nil for other scores.
	Changed *edition.Embedded
}

// Output is the music, and where in the text it stands.
type Output struct {
	Score  *score.Score
	Layout format.Layout // of Base
	Held   *edition.Held // what of Input.Changed still fits the music; nil where there is nothing
}

// Read reads the text that marks are put into. Its notes and digits have the
// places at which they stand in the document that was given.
func Read(in Input) (Output, error) {
	s, layout, err := format.Read(in.Base)
	if err != nil || in.Document == in.Base {
		out := Output{Score: s, Layout: layout}
		if err == nil {
			out.Held = in.Changed.Hold(s)
		}
		return out, err
	}
	given, _, err := format.Read(in.Document)
	if err != nil {
		return Output{}, err
	}
	for i := range s.Notes {
		if i >= len(given.Notes) {
			break
		}
		from, to := &given.Notes[i], &s.Notes[i]
		to.Line, to.Column = from.Line, from.Column
		k := 0
		for at := range to.Indications {
			digit := &to.Indications[at]
			for k < len(from.Indications) && from.Indications[k].Text != digit.Text {
				k++
			}
			if k < len(from.Indications) {
				digit.Line, digit.Column = from.Indications[k].Line, from.Indications[k].Column
				k++
			}
		}
	}
	for k := range s.Directions {
		if len(given.Directions) == len(s.Directions) { // else signs were added among them
			s.Directions[k].Line, s.Directions[k].Column = given.Directions[k].Line, given.Directions[k].Column
		}
	}
	return Output{Score: s, Layout: layout}, nil
}
