// Package open is the stage that opens a score's file, and takes an edition of
// ours back to the text it was made from.
package open

import (
	"fingerproof/corpus/format"
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/edition"
)

// Input is the file.
type Input struct {
	Path string // for messages, and to tell the form by its ending
	Data []byte
	// Draft says that the digits in the text are an editor's draft: the text is what stands there without them.
	Draft bool
}

// Output is the file as a document.
type Output struct {
	Document *source.Document // as given
	// Base is the text that marks are put into: of an edition, the text it was
	// made from; of one with a draft typed in, the text without it; else the document itself.
	Base     *source.Document
	Embedded *edition.Embedded // what an edition carries along; nil for other scores
	// Changed is what an edition carries that another program has changed since; nil for other scores.
	Changed *edition.Embedded
}

// Open opens a file within the program's limits.
func Open(in Input) (out Output, err error) {
	out.Document, err = source.Open(in.Path, in.Data, source.DefaultLimits())
	if err == nil {
		out.Base, out.Embedded, out.Changed = edition.Unpack(out.Document)
	}
	if err == nil && in.Draft {
		out.Base, err = withoutDigits(out.Base)
	}
	return out, err
}

// withoutDigits takes every digit out of a text, but for those of which it says itself that they are the composer's or an
// earlier hand's (MEI, @resp): they are no editor's draft.
func withoutDigits(doc *source.Document) (*source.Document, error) {
	s, layout, err := format.Read(doc)
	if err != nil {
		return nil, err
	}
	digits, any := make([][]bool, len(s.Notes)), false
	for i := range s.Notes {
		for k := range s.Notes[i].Indications {
			out := !s.Notes[i].Indications[k].SaidNotEditors()
			digits[i], any = append(digits[i], out), any || out
		}
	}
	if !any {
		return doc, nil
	}
	text, err := source.Apply(doc.Text, layout.TakeOutDigits(doc, digits))
	if err != nil {
		return nil, err
	}
	return doc.WithText(text), nil
}
