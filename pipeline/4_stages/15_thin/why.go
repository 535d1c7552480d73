package thin

import (
	"strings"

	"fingerproof/rules/places"
)

// Why says why a digit is printed.
type Why uint8

// The reasons. Those before Wanted stay whatever the reader knows.
const (
	NotPrinted Why = iota
	Asked          // it is decided, or cannot be read from others: a change of finger, a row of digits, a witness's
	FirstOfHand
	AfterRest
	FirstOfSystem
	ReturnBegins
	Landing // the hand lands here after a leap
	Change  // another finger takes the key that was just struck
	Departs // from the finger that the preface tells
	First   // of what has a digit later
	Doubt   // the preface tells it, but the hand lies otherwise
	NewGrip // the first chord after a change of key, where it is new
	Untold  // neither digits nor the preface say which fingers take it
	FigureBegins
	PhraseBegins
	Head      // of a few notes of which a later one has a digit
	Statement // of a figure that goes on by steps: the first whole, the others at their first note
	Move      // the hand moves
	Wanted    // editors want a digit here (places.Line.Reasons says why)
	Needed    // a reader of the other digits would take another finger here, or soon
	Turn      // between digits a run turns
	Chord     // the other digits of the chord would not say which keys they mean
	Figure    // the figure has a digit here each time
)

// fixed says that the digit stays.
func (w Why) fixed() bool { return w < Wanted }

// says puts a reason into an editor's words; empty where the place itself has to be asked.
var says = [...]string{
	Asked: "decided, or not to be read from other digits", FirstOfHand: "the first note of the hand",
	AfterRest: "the first note after a rest", FirstOfSystem: "the first note of a system",
	ReturnBegins: "a passage comes again from here", Landing: "the hand lands here after a leap",
	Change:       "another finger takes the same key",
	Departs:      "another finger than the last time, or than is usual",
	First:        "what comes again with a digit has it the first time",
	Doubt:        "the fingers go on as they went, though another finger lies on the key",
	NewGrip:      "the first chord after a change of key",
	Untold:       "nothing else on the page says which fingers take it",
	FigureBegins: "a figure begins here that comes again at once or goes on", PhraseBegins: "a slur begins here",
	Head:      "the first of a few notes of which a later one has a digit",
	Statement: "a figure that goes on by steps has its fingers whole the first time, then at its first note",
	Needed:    "a reader of the other digits would take another finger here, or soon after",
	Move:      "the hand moves here", Turn: "a run turns here between digits",
	Chord: "so that the digits of the chord say which keys they mean", Figure: "the figure has a digit here each time",
}

// String gives the words of a reason.
func (w Why) String() string {
	if int(w) < len(says) {
		return says[w]
	}
	return ""
}

// Words says in an editor's words why digits are printed: for each note that has one, in the styles that choose places.
// What is wanted is said as editions print it; empty are notes without a digit, and all where every note or the
// composer's digits alone are printed.
func Words(in Fingered, printed []bool, why []Why) []string {
	out := make([]string, len(printed))
	if in.Style.Digits == "composer-only" || in.Style.Digits == "every-note" {
		return out
	}
	for _, l := range lineOrder(in) {
		events := places.Events(in.Score, &in.Playing.Lines[l], in.Finger)
		line := in.model().Line(events, in.Style.density())
		for e := range events {
			for k, i := range events[e].Notes {
				switch {
				case !printed[i]:
				case why[i] == Wanted:
					out[i] = "editions print a digit at such a place"
					if reasons := line.Reasons(e, k); len(reasons) > 0 {
						out[i] = strings.Join(reasons, "; ")
					}
				default:
					out[i] = why[i].String()
				}
			}
		}
	}
	return out
}
