package mei

import "fingerproof/corpus/source/xmltree"

// Layout remembers where things stand in the document's text, so that marks
// become edits without a second reading. Offsets count bytes of
// source.Document.Text.
type Layout struct {
	prefix   string                          // of the document's element names, "" for none
	staves   [][]int                         // by part: the numbers of its staves in the document
	grouped  map[xmltree.Span][]xmltree.Span // the digits of each <fingGrp>
	notes    []noteLayout
	measures []xmltree.Span
	head     headLayout
	ours     []string // ids that begin as ours do
	said     []*xmltree.Element
	// signs of rolls that an edition has added, and the words beside them
	rolls, rollWords []xmltree.Span
	// counters of the reader
	braces, arpeggios, spanners int
}

// noteLayout is what writing needs of a note.
type noteLayout struct {
	note    xmltree.Span // of the note, or of its chord's note
	id      string
	on      xmltree.Span // of the chord, or the note itself
	onID    string
	staff   int // number in the document
	part    int
	measure int
	layer   string
	stamp   string // its beat, for what has no id of its own
	chord   bool   // it stands in a chord
	copied  bool   // it is written elsewhere and only meant here, or no id names it alone
	rest    bool
	fingers []fingerLayout
	group   int // notes of one chord share it: index of its first
}

// fingerLayout is where a digit stands, and what holds it.
type fingerLayout struct {
	at, whole xmltree.Span
	copied    bool // it is written elsewhere, where it changes or not
}

// headLayout is where the document's head can take what is ours.
type headLayout struct {
	root        xmltree.Span
	agents      []declaredAgent // those of ours that are responsible
	head        xmltree.Span
	fields      map[string]xmltree.Span // of our own fields, by full name
	fieldsEnd   int32                   // where another may stand
	title       xmltree.Span
	titleEnd    int32
	music       xmltree.Span
	front       xmltree.Span
	beforeFront int32
	legend      xmltree.Span
}
