package mei

import (
	"fingerproof/corpus/musicxml"
	"fingerproof/corpus/source/xmltree"
)

// Limits bound what one document may ask of the reader.
type Limits struct {
	Tree     xmltree.Limits  // of the document, which is held whole
	Music    musicxml.Limits // of the music in it
	CopyOf   int             // how deep copies stand in copies
	Copies   int             // how many elements are copies
	Controls int             // control events: slurs, dynamics, digits
}

// DefaultLimits are far above any real score; see musicxml.DefaultLimits.
func DefaultLimits() Limits {
	return Limits{
		Tree:  xmltree.Limits{Depth: 96, Elements: 3_000_000, Attributes: 200},
		Music: musicxml.DefaultLimits(), CopyOf: 8, Copies: 200_000, Controls: 400_000,
	}
}
