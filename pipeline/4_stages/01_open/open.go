// Package open is the stage that opens a score's file, and takes an edition of
// ours back to the text it was made from.
package open

import (
	"fingerproof/corpus/source"
	"fingerproof/pipeline/3_records/edition"
)

// Input is the file.
type Input struct {
	Path string // for messages, and to tell the form by its ending
	Data []byte
}

// Output is the file as a document.
type Output struct {
	Document *source.Document // as given
	// Base is the text that marks are put into: of an edition, the text it was
	// made from; else the document itself.
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
	return out, err
}
