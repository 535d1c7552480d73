package mei

import "fingerproof/corpus/musicxml"

// What an edition of ours writes is known again by its ids and types.
const (
	idPrefix = musicxml.FieldPrefix
	// legendType is that of the <div> in which an edition explains the looks of its digits.
	legendType      = "fingering-legend"
	typeAlternative = "alternative"
	typeHandSign    = "redistribution"
	typeHandBracket = "redistribution"
	typeRoll        = "roll"
	typeRollWords   = "roll"
)
