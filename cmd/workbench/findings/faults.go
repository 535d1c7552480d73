package findings

import "slices"

// fault plants one fault, where it finds a place for it.
type fault struct {
	rule  string
	apply func(g *planter)
}

// faults lists what is planted, in this order: what needs a rare place comes first.
var faults = slices.Concat(
	faultsOfRarePlaces, faultsOfVoices, faultsOfWholePieces, faultsOfSigns, faultsOfText, faultsOfWords, faultsOfJumps, faultsOfMarks,
	faultsOfSlips, faultsOfOtherParts, faultsOfDecisions, faultsOfHands, faultsOfGrips, faultsOfLines, faultsOfNotation, faultsOfWitnesses,
)
