package musicxml

import "fingerproof/corpus/source/xmltree"

// Limits bound what one document may ask of the reader.
type Limits struct {
	Depth      int // elements inside each other
	Elements   int // below one child of a measure or of the head
	Attributes int // of one element
	Notes      int // elements named note in the whole document
	Measures   int // in one part
	Parts      int
	AtOnce     int // notes of one part that begin together
	Voices     int // in one measure of a part
}

// DefaultLimits are far above any real score: the longest works for piano have some ten thousands of notes. Working one
// out takes about 16 KiB of memory a note.
func DefaultLimits() Limits {
	return Limits{
		Depth: 48, Elements: 200_000, Attributes: 200, Notes: 200_000, Measures: 50_000, Parts: 1000,
		AtOnce: 128, Voices: 64,
	}
}

// tree are the limits of the elements that are read.
func (l Limits) tree() xmltree.Limits {
	return xmltree.Limits{Depth: l.Depth, Elements: l.Elements, Attributes: l.Attributes}
}
