package musicxml

import "fingerproof/corpus/source/xmltree"

// Layout remembers where things stand in the document's text, so that marks
// become edits without a second reading. Offsets count bytes of
// source.Document.Text.
type Layout struct {
	notes []noteLayout
	head  headLayout
	// rollWords are the directions, or parts of them, whose words say that an edition of ours has added a roll.
	rollWords []xmltree.Span
}

// noteLayout is what writing needs of one note element. The spans of things
// that are not there do not exist.
type noteLayout struct {
	note      xmltree.Span
	notations xmltree.Span   // the first <notations> that is printed
	technical xmltree.Span   // the first <technical> in it
	fingers   []xmltree.Span // every <fingering> of the note, in the order of Note.Indications
	roll      xmltree.Span   // the <arpeggiate> that an edition of ours has added
	stem      xmltree.Span   // the <stem>
	staff     xmltree.Span   // the <staff>
	noStaff   int32          // where a <staff> could stand
	before    int32          // where the child before a first <notations> ends
	last      int32          // end of the last <notations>, 0 where there is none
	chordHead int32          // index of the note whose chord this one joins, or its own
}

// headLayout is where the document's head can take a miscellaneous field.
type headLayout struct {
	identification xmltree.Span
	lastChild      int32 // end of the last child of identification that may stand before miscellaneous
	miscellaneous  xmltree.Span
	fields         map[string]xmltree.Span // of our own fields, by full name
	partList       int32                   // start of <part-list>
	legend         xmltree.Span            // the <credit> in which an edition explains its digits
	beforePartList int32                   // end of what stands before a new <identification>; the root's open tag at least
}
