package playing

import "fingerproof/corpus/score"

// Hands says who plays each note. Its slices run parallel to Score.Notes.
type Hands struct {
	Piano  []bool       // a pitched note of a keyboard part, neither cue nor hidden: some hand plays it
	Hand   []score.Hand // which hand, of notes that are played
	Player []int        // whose, from 0
	// Parts says by index which parts are played.
	Parts []bool
	// By says what tells the hand of a note that is played; nil: its staff, of every note.
	By []Evidence
	// Rolled are the chords that editors decided to roll; nil for none. Those of the text need not be named.
	Rolled []score.Rolling
}

// Evidence is what tells which hand plays a note.
type Evidence uint8

// What tells the hand.
const (
	ByStaff    Evidence = iota // the staff on which its voice lives
	BySign                     // a hand sign of the text
	ByDigits                   // digits that stand about it fit this hand alone
	ByWriting                  // beams and voices that cross over
	ByPosition                 // where the keys lie: the other staff has nothing there, or more than a hand can take
	ByDecision                 // an editor decided it
)

// Words say it, behind "for".
func (e Evidence) Words() string {
	switch e {
	case BySign:
		return "a sign of the text says so"
	case ByDigits:
		return "the digits of the text there fit this hand alone"
	case ByWriting:
		return "beams and voices cross over"
	case ByPosition:
		return "the keys lie under it and it is free"
	case ByDecision:
		return "an editor decided it"
	}
	return "its staff says so"
}
