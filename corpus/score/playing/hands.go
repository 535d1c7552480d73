package playing

import "fingerproof/corpus/score"

// Hands says who plays each note. Its slices run parallel to Score.Notes.
type Hands struct {
	Piano  []bool       // a pitched note of a keyboard part, neither cue nor hidden: some hand plays it
	Hand   []score.Hand // which hand, of notes that are played
	Player []int        // whose, from 0
	// Parts says by index which parts are played.
	Parts []bool
	// Rolled are the chords that editors decided to roll; nil for none. Those of the text need not be named.
	Rolled []score.Rolling
}
