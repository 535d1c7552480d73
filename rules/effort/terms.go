package effort

// Class says what kind of music two neighbouring strokes belong to.
type Class uint8

// The classes of a transition.
const (
	SingleLine Class = iota // one key struck on either side
	OuterVoice              // the outer voices of chords, or a chord and a single key
	InnerVoice              // any other pair of keys
	classes
)

// pairIndex of two different fingers 1–5.
func pairIndex(a, b int) int {
	if a > b {
		a, b = b, a
	}
	return [5]int{0, 0, 4, 7, 9}[a] + b - a - 1
}

// Term is the number of one criterion's term in a table of weights.
type Term uint16

// Terms by place. Groups of ten go by finger pair, groups of five by finger. Values are in thousandths of the unit
// said here; a weight is in milli-nats per unit.
const (
	fingerSingle      Term = iota * 5 // a finger on a single key
	fingerChord                       // a finger in a chord
	fingerLeft                        // a finger of the left hand
	risingAhead                       // a finger, per octave the next four keys lie above
	fallingAhead                      // … below
	risingBehind                      // a finger, per octave the last four keys lie above
	fallingBehind                     // … below
	fingerBlackSingle                 // a finger on a single black key
	fingerBlackChord                  // a finger on a black key in a chord
	unaryEnd
)

const (
	linkOrder Term = unaryEnd + iota*10 // fingers in order on another key
	linkPass                            // fingers crossed: thumb under, finger over
	linkSmall                           // per 50 mm below the relaxed span
	linkLarge                           // per 50 mm above it
	chordOrder
	chordSmall
	chordLarge
	pairsEnd
)

// Terms of a transition that stand once for each class.
const (
	sameFinger         Term = iota // one finger on two keys
	sameFingerFar                  // … per 50 mm
	sameFingerSlide                // … from a black key to the white one beside it
	sameKeyOther                   // another finger on the same key
	sameKeySame                    // the same finger on the same key
	passThumbBlack                 // a pass with the thumb on black
	passLevel                      // a pass between keys of one colour
	passGood                       // thumb on white, the finger on black
	passFar                        // a pass, per 50 mm of distance
	beyondComfort                  // per 50 mm beyond a comfortable span
	beyondPractical                // per 50 mm beyond a practical span
	thumbBlackByWhite              // thumb on black next to a white key
	fifthBlackByWhite              // fifth on black next to a white key
	displacement                   // of the hand's position, per 50 mm
	displacementCapped             // the same, but no more than 100 mm counted
	handOrder                      // in this class, fingers in order (bias)
	handPass                       // in this class, fingers crossed (bias)
	linkTerms
)

// Terms of three strokes in a row, once for a single line and once for other lines.
const (
	sameFingerTwoApart  Term = iota // the same finger on the first and third key, which differ
	sameFingerTwoNear               // … of at most 60 mm apart
	otherFingerReturn               // another finger on the same key
	halfChange                      // the first and third key leave the hand's position
	fullChange                      // … over the thumb, in one direction
	changeSize                      // … per 50 mm
	threeFourFive                   // 3, 4 and 5 in a row
	turnAfterPass                   // back again right after a pass
	positionThere                   // displacement of the position from first to third, per 50 mm
	crossedThere                    // first and third crossed without the thumb
	sameFingerBothSides             // the same finger three times on different keys
	orderOneWay                     // three keys one way and the fingers with them
	tripleTerms
)

const (
	linkStart    = pairsEnd
	chordStart   = linkStart + Term(classes)*linkTerms
	tripleStart  = chordStart + chordTerms
	patternScale = tripleStart + 2*tripleTerms // reward for the handbook's digit inside a long scale
	patternChord = patternScale + 1            // … inside a long arpeggio
	memoryGiven  = patternScale + 2            // reward for the digit given at an exact return nearby
	learnedHabit = patternScale + 3            // per nat that the network holds against a finger (see learned.go)
	// Terms is how many there are.
	Terms = learnedHabit + 1
)

// Terms within a chord.
const (
	chordBeyondComfort Term = iota
	chordBeyondPractical
	chordThumbBlack  // thumb on black beside a white key
	chordFifthBlack  // fifth on black beside a white key
	chordHeld        // one of the two is only held: bias of order
	chordNeighbours  // neighbouring fingers
	chordAdjacentGap // keys next to each other in the chord, fingers left out between them
	chordTerms
)
