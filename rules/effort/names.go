package effort

import "fmt"

// pairNames in the order of pairIndex.
var pairNames = [10]string{"1-2", "1-3", "1-4", "1-5", "2-3", "2-4", "2-5", "3-4", "3-5", "4-5"}

// named is a term's name in the tables of weights, and the criterion under which results count it.
type named struct{ criterion, name string }

// perFinger names the groups of terms that there is one of for each finger, by the first of them.
var perFinger = map[Term]named{
	fingerSingle:      {"pattern", "single key"},
	fingerChord:       {"pattern", "chord"},
	fingerLeft:        {"pattern", "left hand"},
	risingAhead:       {"position", "keys ahead above"},
	fallingAhead:      {"position", "keys ahead below"},
	risingBehind:      {"position", "keys behind above"},
	fallingBehind:     {"position", "keys behind below"},
	fingerBlackSingle: {"keys", "black key"},
	fingerBlackChord:  {"keys", "black key in a chord"},
}

// perPair names the groups of terms that there is one of for each pair of fingers, by the first of them.
var perPair = map[Term]named{
	linkOrder:  {"stretch", "in order"},
	linkPass:   {"passing", "crossed"},
	linkSmall:  {"stretch", "cramped"},
	linkLarge:  {"stretch", "open"},
	chordOrder: {"stretch", "chord"},
	chordSmall: {"stretch", "chord cramped"},
	chordLarge: {"stretch", "chord open"},
}

// ofLinks names the terms of two strokes in a row.
var ofLinks = [linkTerms]named{
	sameFinger:         {"repetition", "same finger, another key"},
	sameFingerFar:      {"repetition", "same finger, distance"},
	sameFingerSlide:    {"repetition", "same finger, slide to white"},
	sameKeyOther:       {"repetition", "same key, another finger"},
	sameKeySame:        {"repetition", "same key, same finger"},
	passThumbBlack:     {"passing", "pass, thumb on black"},
	passLevel:          {"passing", "pass, one level"},
	passGood:           {"passing", "pass, thumb on white by black"},
	passFar:            {"passing", "pass, distance"},
	beyondComfort:      {"stretch", "beyond comfort"},
	beyondPractical:    {"stretch", "beyond limit"},
	thumbBlackByWhite:  {"keys", "thumb on black by white"},
	fifthBlackByWhite:  {"keys", "fifth on black by white"},
	displacement:       {"position", "hand moved"},
	displacementCapped: {"position", "hand moved, near"},
	handOrder:          {"stretch", "fingers in order"},
	handPass:           {"passing", "fingers crossed"},
}

// ofChords names the terms of two keys of a chord.
var ofChords = [chordTerms]named{
	chordBeyondComfort:   {"stretch", "beyond comfort"},
	chordBeyondPractical: {"stretch", "beyond limit"},
	chordThumbBlack:      {"keys", "thumb on black by white"},
	chordFifthBlack:      {"keys", "fifth on black by white"},
	chordHeld:            {"stretch", "one key held"},
	chordNeighbours:      {"stretch", "neighbouring fingers"},
	chordAdjacentGap:     {"stretch", "fingers left out"},
}

// ofRows names the terms of three strokes in a row.
var ofRows = [tripleTerms]named{
	sameFingerTwoApart:  {"repetition", "same finger two apart"},
	sameFingerTwoNear:   {"repetition", "same finger two apart, near"},
	otherFingerReturn:   {"repetition", "another finger on return"},
	halfChange:          {"position", "half change"},
	fullChange:          {"position", "full change"},
	changeSize:          {"position", "size of change"},
	threeFourFive:       {"pattern", "3, 4 and 5 in a row"},
	turnAfterPass:       {"passing", "turn after a pass"},
	positionThere:       {"position", "hand moved over two"},
	crossedThere:        {"passing", "crossed over two"},
	sameFingerBothSides: {"repetition", "same finger three times"},
	orderOneWay:         {"pattern", "fingers go with the keys"},
}

// Name of a term as the tables write it.
func (t Term) Name() string { return termNames[t] }

// Criterion the term is counted under in results.
func (t Term) Criterion() string { return termCriteria[t] }

var termNames, termCriteria = nameTerms()

func nameTerms() (names, criteria [Terms]string) {
	set := func(t Term, criterion, name string, args ...any) {
		names[t], criteria[t] = fmt.Sprintf(name, args...), criterion
	}
	for t, g := range perFinger {
		for f := range 5 {
			set(t+Term(f), g.criterion, "%s, finger %d", g.name, f+1)
		}
	}
	for t, g := range perPair {
		for i, pair := range pairNames {
			set(t+Term(i), g.criterion, "%s, %s", g.name, pair)
		}
	}
	for c, class := range []string{"line", "outer voice", "inner voice"} {
		for i, l := range ofLinks {
			set(linkStart+Term(c)*linkTerms+Term(i), l.criterion, "%s: %s", class, l.name)
		}
	}
	for i, n := range ofChords {
		set(chordStart+Term(i), n.criterion, "chord: %s", n.name)
	}
	for c, class := range []string{"line", "chords"} {
		for i, r := range ofRows {
			set(tripleStart+Term(c)*tripleTerms+Term(i), r.criterion, "three in a %s: %s", class, r.name)
		}
	}
	set(patternScale, "pattern", "handbook digit in a long scale")
	set(patternChord, "pattern", "handbook digit in a long arpeggio")
	set(memoryGiven, "parallel", "digit given at a return")
	set(learnedHabit, "learned", "what the network holds against a finger")
	return names, criteria
}

// Criteria in the order in which results list them.
var Criteria = []string{
	"stretch", "position", "passing", "keys", "repetition", "pattern", "parallel", "habit", "learned",
	"line", "tempo", "reach", "limit", "change",
}
